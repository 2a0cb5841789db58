import { mkdirSync, rmSync } from "node:fs";
import { describe, expect, it, vi } from "vitest";
import { POST as stage } from "@/app/api/import/route";
import { POST as runRoute, DELETE as stopRoute } from "@/app/api/import/run/route";
import { listWeather } from "@/db/queries/list-weather";
import { type House, shareHouse } from "@/lib/service/house";
import type { ImportAnswer } from "@/lib/service/import-asked";
import { stagedFiles } from "@/lib/service/staged-files";
import { startGarden } from "@/lib/service/start-garden";
import { addDays, type Day } from "@/lib/words/day";
import { freshHouse, given, keptRecord, someGarden } from "./fresh-house";

vi.mock("node:worker_threads", async (original) => {
  const { workersByTsx } = await import("./workers-by-tsx");
  return workersByTsx(await original());
});

const address = "http://127.0.0.1:3000/api/import";
const mapping = { day: { column: 0 }, min_c: { column: 1 } };
const firstDay = "1990-01-01" as Day;

function weatherFile(days: number): string {
  return [
    "day,min_c",
    ...Array.from({ length: days }, (_, at) => `${addDays(firstDay, at)},${-(at % 9)}`),
  ].join("\n");
}

/** More than can be read while one line travels. */
function longFile(): string {
  return `day,min_c\n${"1990-01-01,-1\n".repeat(400_000)}`;
}

function sharedGarden(): House {
  const house = freshHouse();
  given(startGarden(house, someGarden));
  shareHouse(house);
  return house;
}

async function staged(text: string): Promise<string> {
  const answer = await stage(new Request(`${address}?name=weather.csv`, { method: "POST", body: text }));
  return (await answer.json()).set;
}

function run(set: string, isWriting = true, signal?: AbortSignal): Promise<Response> {
  const trial = { question: "", crop: "", check: "" };
  const asked = { kind: "weather", trialId: null, mapping, dayOrder: null, skipBlank: false, trial };
  const body = JSON.stringify({ set, asked, isWriting });
  return runRoute(new Request(`${address}/run`, { method: "POST", body, signal }));
}

type Line = { part?: number; answer?: ImportAnswer };

/** The lines of an answer as they come. */
async function* linesOf(response: Response): AsyncGenerator<Line> {
  let rest = "";
  const decoder = new TextDecoder();
  for await (const piece of response.body as unknown as AsyncIterable<Uint8Array>) {
    const lines = (rest + decoder.decode(piece, { stream: true })).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines) yield JSON.parse(line);
  }
}

async function answerOf(response: Response): Promise<ImportAnswer | undefined> {
  let last: Line = {};
  for await (const line of linesOf(response)) last = line;
  return last.answer;
}

/** Stops what is done with a set, as the page's button does. */
function stop(set: string): void {
  expect(stopRoute(new Request(`${address}/run?set=${set}`, { method: "DELETE" })).status).toBe(204);
}

/** Something that goes on when it is let. */
function gate(): { passed: Promise<void>; open(): void } {
  let open = () => {};
  const passed = new Promise<void>((resolve) => {
    open = resolve;
  });
  return { passed, open };
}

const days = (house: House) => listWeather(house.database, firstDay, "2199-12-31" as Day).length;

describe("the route that takes files in", () => {
  it("tells how far it is, then its answer, and takes the set away once it is in", async () => {
    const house = sharedGarden();
    const set = await staged(weatherFile(3_000));
    const lines: Line[] = [];
    const response = await run(set);
    expect(response.headers.get("Content-Type")).toBe("application/x-ndjson");
    for await (const line of linesOf(response)) lines.push(line);
    const parts = lines.flatMap(({ part }) => part ?? []);
    expect(parts.length).toBeGreaterThan(0);
    expect(parts).toEqual(parts.toSorted((one, other) => one - other));
    expect(lines.at(-1)?.answer).toMatchObject({ state: "done", rows: 3_000, added: 3_000, already: 0 });
    expect(days(house)).toBe(3_000);
    expect(stagedFiles(house, set)).toEqual([]);
  });

  it.each(["", "{", '{"set":1}'])("answers 400 to %j", async (body) => {
    sharedGarden();
    expect((await runRoute(new Request(`${address}/run`, { method: "POST", body }))).status).toBe(400);
  });

  it("stops while it reads, writes nothing, keeps the set, and takes it in when it is asked again", async () => {
    const house = sharedGarden();
    const before = keptRecord(house.database);
    const set = await staged(longFile());
    let last: Line = {};
    for await (const line of linesOf(await run(set))) {
      if (last.part === undefined) stop(set);
      last = line;
    }
    expect(last.answer).toEqual({ state: "stopped" });
    expect(keptRecord(house.database)).toEqual(before);
    expect(stagedFiles(house, set)).toHaveLength(1);
    const small = await staged(weatherFile(2));
    expect(await answerOf(await run(small))).toMatchObject({ state: "done", added: 2 });
  });

  it("stops before it begins to read, while the copy before it is still being made", async () => {
    const house = sharedGarden();
    const copying = gate();
    house.backUp = () => copying.passed.then(() => "copy");
    const set = await staged(weatherFile(2));
    const running = await run(set);
    stop(set);
    copying.open();
    expect(await answerOf(running)).toEqual({ state: "stopped" });
    expect(days(house)).toBe(0);
  });

  it("stops when nobody listens any more", async () => {
    const house = sharedGarden();
    const before = keptRecord(house.database);
    const leaving = new AbortController();
    const set = await staged(longFile());
    const lines = linesOf(await run(set, true, leaving.signal));
    await lines.next();
    leaving.abort();
    // Its turn comes when the first is over.
    expect(await answerOf(await run(await staged("day,min_c\nx,y\n"), false))).toMatchObject({ count: 2 });
    expect(keptRecord(house.database)).toEqual(before);
  });

  it("takes one set after the other, however they are asked for", async () => {
    const house = sharedGarden();
    const copying = gate();
    let copies = 0;
    house.backUp = async () => {
      copies += 1;
      await copying.passed;
      return "copy";
    };
    const [one, other] = [await staged(weatherFile(5)), await staged(weatherFile(8))];
    const answers = [await run(one), await run(other)].map(answerOf);
    await vi.waitFor(() => expect(copies).toBe(1));
    copying.open();
    expect(await Promise.all(answers)).toMatchObject([
      { state: "done", added: 5, already: 0 },
      { state: "done", added: 3, already: 5 },
    ]);
    expect(copies).toBe(2);
    expect(days(house)).toBe(8);
  });

  it("takes nothing in where the copy before it cannot be made", async () => {
    const house = sharedGarden();
    const reported: unknown[] = [];
    Object.assign(house, {
      backUp: () => Promise.reject(new Error("disk full")),
      report: (fault: unknown) => reported.push(fault),
    });
    expect(await answerOf(await run(await staged(weatherFile(2))))).toMatchObject({
      state: "faulty",
      faults: [{ found: "the garden’s file could not be backed up first" }],
    });
    expect(reported).toEqual([new Error("disk full")]);
    expect(days(house)).toBe(0);
  });

  it("says so when its worker fails, leaves the record as it was, and takes the next set in", async () => {
    const house = sharedGarden();
    const before = keptRecord(house.database);
    const reported: unknown[] = [];
    house.report = (fault) => reported.push(fault);
    const set = await staged(weatherFile(2));
    const [{ path }] = stagedFiles(house, set);
    rmSync(path);
    mkdirSync(path);
    expect(await answerOf(await run(set))).toEqual({
      state: "faulty",
      faults: [
        {
          place: "file",
          found: "reading it came to an end before its time",
          wanted: "a smaller file; nothing of it was taken in",
        },
      ],
      count: 1,
    });
    expect(String(reported)).toContain("EISDIR");
    expect(keptRecord(house.database)).toEqual(before);
    expect(await answerOf(await run(await staged(weatherFile(2))))).toMatchObject({ added: 2 });
  });
});
