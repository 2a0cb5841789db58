import type { ChildProcess } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { cpus, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { openReadOnly } from "@/db/open";
import { listBackups } from "@/lib/service/list-backups";
import { instantOf } from "@/lib/words/instant";
import { fillLarge } from "./fill-large";
import { serveBuilt } from "./serve-built";

const root = fileURLToPath(new URL("../..", import.meta.url));
const targetMs = 100;
const targetGrowth = 1.3;
const askedOfEach = 48;
const warmUps = 6;
const idsOfEach = 8;

/** What stands for the parts in brackets under a folder of pages, as a query that spreads over all there are. */
const idsUnder: Record<string, string> = {
  trials: `SELECT trial.id AS id, min(plot.id) AS plot FROM trial JOIN plot ON plot.trial_id = trial.id
    WHERE closed_on IS NOT NULL GROUP BY trial.id ORDER BY trial.id`,
  varieties: "SELECT id FROM variety ORDER BY id",
};

type Ids = Record<string, string>;

interface Garden {
  dataFolder: string;
  /** Of trials and of varieties, some from everywhere. */
  ids: Record<string, Ids[]>;
  counts: string;
}

function gardenIn(dataFolder: string): Garden {
  const database = openReadOnly(join(dataFolder, "garden.sqlite"));
  const all = (query: string) => database.$client.prepare<[], Ids>(query).all();
  const spread = (ids: Ids[]) =>
    Array.from({ length: idsOfEach }, (_, index) => ids[Math.floor((index * ids.length) / idsOfEach)]);
  const [trials, plots, facts] = ["trial", "plot", "observation"].map((table) =>
    Number(all(`SELECT count(*) AS rows FROM ${table}`)[0].rows),
  );
  const ids = Object.fromEntries(
    Object.entries(idsUnder).map(([place, query]) => [place, spread(all(query))]),
  );
  database.$client.close();
  const say = (count: number) => count.toLocaleString("en-GB");
  return {
    dataFolder,
    ids,
    counts: `${say(trials)} trials, ${say(plots)} plots, ${say(facts)} observations`,
  };
}

/** Every page there is, by its folder: `/trials/[id]/log`; what the phone asks for its walk comes with them. */
function pages(): string[] {
  const found = readdirSync(join(root, "app"), { recursive: true, encoding: "utf8" })
    .filter((name) => /(^|\/)page\.tsx$/.test(name))
    .map((name) => `/${name.replace(/\/?page\.tsx$/, "")}`);
  return [...found.sort(), "/api/field-pack"];
}

/** The addresses of one page: one for each id where it has one. Null where nothing is known to stand for a part of it. */
function addresses(page: string, { ids }: Garden): string[] | null {
  if (!page.includes("[")) return [page];
  const filled = ids[page.split("/")[1]]?.map((own) =>
    page.replace(/\[(\w+)\]/g, (part, name: string) => own[name] ?? part),
  );
  return filled?.some((address) => address.includes("[")) ? null : (filled ?? null);
}

interface Served {
  url: string;
  child: ChildProcess;
  garden: Garden;
}

/** Waits for the day's backup, which a server begins when it starts and which has work of its own. */
async function untilBackedUp(dataFolder: string): Promise<void> {
  const today = instantOf(Date.now()).slice(0, 10);
  while (!listBackups({ dataFolder }).some((copy) => copy.madeAt.startsWith(today))) await pause(500);
}

/** Milliseconds from asking until the last byte has come. */
async function timeOf(address: string): Promise<number> {
  const start = performance.now();
  const answer = await fetch(address, { redirect: "manual" });
  await answer.arrayBuffer();
  const took = performance.now() - start;
  // A trial that is closed sends its closing page on to its plan.
  if (answer.status !== 200 && answer.status !== 307) throw new Error(`${address} answered ${answer.status}`);
  return took;
}

function quantile(times: number[], share: number): number {
  const sorted = times.toSorted((one, other) => one - other);
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)];
}

interface Timed {
  /** When a page is asked for the first time for an id: nothing of it is kept yet. */
  first: number[];
  again: number[];
  /** Milliseconds of work a page, whatever else the machine did meanwhile; not a number where the system does not tell. */
  work: number;
}

const ticksMs = 10;

/** Milliseconds for which a process has worked so far, as Linux counts them. */
function workOf(pid: number | undefined): number {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, "utf8").split(") ")[1].split(" ");
    return (Number(fields[11]) + Number(fields[12])) * ticksMs;
  } catch {
    return Number.NaN;
  }
}

const quietMs = 60;

/** Waits until a server that has just begun has nothing left to do: it works out the answers of all trials. */
async function untilQuiet({ child }: Served): Promise<void> {
  for (;;) {
    const before = workOf(child.pid);
    await pause(2_000);
    if (!(workOf(child.pid) - before > quietMs)) return;
  }
}

interface AfterStart {
  /** Milliseconds of the first look at the verdict on a late trial, which rests on the winters before it. */
  verdict: number;
  /** Of Today, asked for again and again in that time. */
  today: number[];
  /** Until all answers were there. */
  all: number;
}

/** What a reader sees who comes while the answers of earlier trials are still being worked out. */
async function timeAfterStart(served: Served): Promise<AfterStart> {
  const { url, garden } = served;
  const start = performance.now();
  await timeOf(`${url}/`);
  let isWaiting = true;
  const today: number[] = [];
  const asking = (async () => {
    while (isWaiting) {
      today.push(await timeOf(`${url}/`));
      await pause(50);
    }
  })();
  const verdict = await timeOf(`${url}/trials/${garden.ids.trials.at(-1)?.id}/verdict`);
  isWaiting = false;
  await asking;
  await untilQuiet(served);
  return { verdict, today, all: performance.now() - start };
}

/** Asks both servers in turn, so that whatever else the machine does falls on both. */
async function timePage(page: string, servers: Served[], rounds: number): Promise<Timed[] | null> {
  const lists = servers.map(({ garden }) => addresses(page, garden));
  if (lists.some((list) => list === null)) return null;
  const timed = servers.map((): Timed => ({ first: [], again: [], work: 0 }));
  for (const [index, { url }] of servers.entries()) {
    const list = lists[index] as string[];
    // A page without an id is warmed up, so that the second server is not measured while it is still being compiled.
    if (list.length === 1) for (let times = 0; times < warmUps; times += 1) await timeOf(url + list[0]);
  }
  for (let round = 0; round < rounds; round += 1)
    for (const [index, { url, child }] of servers.entries()) {
      const list = lists[index] as string[];
      const isFirst = list.length > 1 && round < list.length;
      const before = workOf(child.pid);
      timed[index][isFirst ? "first" : "again"].push(await timeOf(url + list[round % list.length]));
      if (!isFirst) timed[index].work += workOf(child.pid) - before;
    }
  return timed;
}

function row(page: string, [small, large]: Timed[]): { line: string; isMet: boolean } {
  const ms = (value: number) => (Number.isFinite(value) ? value.toFixed(1) : "–");
  const [p95, p95Large] = [small, large].map(({ again }) => quantile(again, 0.95));
  const first = small.first.length > 0 ? quantile(small.first, 0.95) : Number.NaN;
  const [work, workLarge] = [small, large].map((timed) => timed.work / timed.again.length);
  const growth = work > 0 ? workLarge / work : quantile(large.again, 0.5) / quantile(small.again, 0.5);
  const isMet = Math.max(p95, p95Large) <= targetMs && growth <= targetGrowth;
  const cells = [
    `\`${page}\``,
    ms(first),
    ms(p95),
    ms(p95Large),
    ms(work),
    ms(workLarge),
    growth.toFixed(2),
    isMet ? "met" : "missed",
  ];
  return { line: `| ${cells.join(" | ")} |`, isMet };
}

async function measure(folders: string[], rounds = askedOfEach): Promise<boolean> {
  const gardens = folders.map(gardenIn);
  const servers: Served[] = [];
  try {
    for (const garden of gardens) servers.push({ ...(await serveBuilt(garden.dataFolder)), garden });
    for (const { dataFolder } of gardens) await untilBackedUp(dataFolder);
    for (const served of servers) await untilQuiet(served);
    const begun: AfterStart[] = [];
    for (const served of servers) begun.push(await timeAfterStart(served));
    console.log("# How long pages take\n");
    console.log(
      `Two gardens made by \`npm run seed:large\`: ${gardens.map(({ counts }) => counts).join("; and ")}. Each page is asked ` +
        `for ${rounds} times from the built server, of trials and varieties from everywhere, the two gardens in turn; ` +
        "milliseconds from asking until the last byte has come, on the same machine. *First* is the p95 of first looks at a " +
        "trial or variety in the smaller garden, once the answers of all trials were worked out. *Work* is what the server's " +
        "process spends of the processor on a page, on average, whatever else the machine does. *Growth* is the work at " +
        "ten times as many trials over the work. Asked for: at most " +
        `${targetMs} ms at p95 in both, and a growth of at most ${targetGrowth}. Node ${process.versions.node}, ` +
        `${cpus()[0]?.model ?? "unknown processor"}.\n`,
    );
    console.log("| page | first | p95 | p95 at ten times | work | work at ten times | growth | |");
    console.log("| --- | --- | --- | --- | --- | --- | --- | --- |");
    let areMet = true;
    const loads = [loadavg()[0]];
    for (const page of pages()) {
      const timed = await timePage(page, servers, rounds);
      if (!timed) throw new Error(`bench:pages knows nothing to stand for the id in ${page}`);
      const { line, isMet } = row(page, timed);
      console.log(line);
      areMet &&= isMet;
      loads.push(loadavg()[0]);
    }
    const [small, large] = begun.map(
      ({ verdict, today, all }) =>
        `the first look at the verdict on a late trial took ${(verdict / 1000).toFixed(1)} s, \`/\` asked for meanwhile ` +
        `${quantile(today, 0.95).toFixed(0)} ms at p95, and all answers were there after ${(all / 1000).toFixed(0)} s`,
    );
    console.log(
      `\nRight after a start, while the answers of all trials were being worked out beside the pages: ${small}. ` +
        `At ten times as many: ${large}.`,
    );
    console.log(
      `\nLoad of the machine at the end: ${loadavg()[0].toFixed(1)} on ${cpus().length} processors.`,
    );
    return areMet;
  } finally {
    for (const { child } of servers) child.kill("SIGTERM");
  }
}

/**
 * `npm run bench:pages [-- SMALL LARGE [ROUNDS]]`: data folders that hold ten winters and a hundred; without them they are
 * made, which takes a while. Ends with 1 where a page misses what is asked for.
 */
async function main([small, large, rounds]: string[]): Promise<boolean> {
  if (large) return measure([small, large], rounds ? Number(rounds) : undefined);
  const made = mkdtempSync(join(tmpdir(), "proving-bed-bench-"));
  try {
    const folders = [10, 100].map((winters) => {
      const folder = join(made, String(winters));
      fillLarge(folder, winters);
      return folder;
    });
    return await measure(folders);
  } finally {
    rmSync(made, { recursive: true, force: true });
  }
}

process.exitCode = (await main(process.argv.slice(2))) ? 0 : 1;
