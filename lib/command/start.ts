import { createServer, type Server } from "node:http";
import { hostname, networkInterfaces } from "node:os";
import { join } from "node:path";
import type { Duplex } from "node:stream";
import { fileURLToPath } from "node:url";
import { takeLock } from "@/db/lock";
import { ageOfFile, NewerDatabaseError, openMigrated, UnreadableDatabaseError } from "@/db/migrate";
import { closeDatabase, type Database } from "@/db/open";
import { backUp, verifyAside } from "@/lib/service/back-up";
import { gardenName } from "@/lib/service/garden-name";
import { type House, shareHouse } from "@/lib/service/house";
import { openDemo } from "@/lib/service/open-demo";
import { sessionOf } from "@/lib/service/session-of";
import { instantOf } from "@/lib/words/instant";
import { BuildFailedError, buildIfStale } from "./build-if-stale";
import { copyDaily } from "./copy-daily";
import { CannotStartError, dataFolderPath, readyDataFolder } from "./data-folder";
import { hostNames } from "./gate";
import { answerPlainly, gated, type Pages } from "./gated";
import { holdingPage } from "./holding-page";
import { liveHouse } from "./live-house";
import { openPhoneDoor, sayPhoneDoor } from "./phone";
import { putBack } from "./put-back";
import { refuseDamaged } from "./refuse-damaged";
import { standstill } from "./standstill";

const root = fileURLToPath(new URL("../..", import.meta.url));
const address = "127.0.0.1";
const finishWithinMs = 10_000;

const stopping = new AbortController();

function wantedPort(environment: NodeJS.ProcessEnv): number {
  const port = Number(environment.PORT || "3000");
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new CannotStartError(`PORT must be a number from 0 to 65535; found ${environment.PORT}`);
  return port;
}

function lockFolder(dataFolder: string): () => void {
  let release: (() => void) | null;
  try {
    release = takeLock(join(dataFolder, "garden.lock"));
  } catch (cause) {
    throw new CannotStartError(`cannot write to the data folder ${dataFolder}`, { cause });
  }
  if (!release) throw new CannotStartError(`another Proving Bed is running on ${dataFolder}`);
  return release;
}

function bind(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", (cause: NodeJS.ErrnoException) => {
      const why =
        cause.code === "EADDRINUSE" ? "is taken by another program" : `cannot be used (${cause.code})`;
      reject(new CannotStartError(`port ${port} ${why}; choose another with PORT=3001`, { cause }));
    });
    server.listen(port, address, () => {
      const bound = server.address();
      resolve(typeof bound === "object" && bound ? bound.port : port);
    });
  });
}

const beingBuilt = holdingPage({
  title: "Proving Bed is being built",
  heading: "Being built",
  text: "The pages are being built from their sources. This takes about half a minute and happens once.",
  api: "The pages are being built; try again in a moment.",
});

const beingPutBack = holdingPage({
  title: "A copy is being put back",
  heading: "A copy is being put back",
  text: "Everything stands still for some seconds. This page looks again by itself.",
  api: "A copy of the garden is being put back; try again in a moment.",
});

/** Makes Next's pages ready. Next is given a server end that never listens, so that it cannot reach past the gate. */
async function preparePages(dev: boolean, port: number): Promise<{ pages: Pages; nextEnd: Server }> {
  const nextEnd = createServer();
  const { default: next } = await import("next");
  const app = next({ dev, dir: root, hostname: address, port, httpServer: nextEnd });
  await app.prepare();
  const handle = app.getRequestHandler();
  const pages: Pages = (request, answer) => {
    handle(request, answer).catch((fault: unknown) => {
      console.error(fault);
      if (!answer.headersSent) answerPlainly(answer, 500, "Something went wrong at home.");
      else answer.destroy();
    });
  };
  return { pages, nextEnd };
}

function stampNow(): string {
  return instantOf(Date.now()).replace(/[^0-9]/g, "");
}

/** Sockets that were handed over to the development server; nothing else would end them. */
const handedOver = new Set<Duplex>();

async function finish(servers: Server[], database: Database | null, release: () => void): Promise<never> {
  const closed = servers.map((server) => new Promise((resolve) => server.close(resolve)));
  for (const socket of handedOver) socket.destroy();
  const late = setTimeout(() => {
    for (const server of servers) server.closeAllConnections();
  }, finishWithinMs);
  await Promise.all(closed);
  clearTimeout(late);
  if (database) closeDatabase(database);
  release();
  process.exit(0);
}

/** For what leaves nothing to go on with. */
function endWith(fault: unknown): never {
  console.error(fault);
  console.error(
    "The garden's file cannot be opened any more: Proving Bed stops here. Nothing of it was changed.",
  );
  process.exit(1);
}

function fillWithDemo(house: House): void {
  const outcome = openDemo(house);
  if (!outcome.ok) console.log("The file holds a garden already: the demo was not loaded.");
}

/**
 * Starts Proving Bed: takes the lock on the data folder, binds the port, builds the pages when they are older than
 * their sources, backs up and migrates the garden's file, makes the pages ready, and prints the address. Whatever
 * stands in the way is one line and an exit code of 1, with nothing touched.
 */
async function start(options: { dev: boolean; demo: boolean; phone: boolean }): Promise<void> {
  const { dev } = options;
  if (dev && options.phone)
    throw new CannotStartError("--phone goes with npm start, not with the development server");
  const dataFolder = dataFolderPath(root, process.env);
  const file = join(dataFolder, "garden.sqlite");
  const port = wantedPort(process.env);
  readyDataFolder(dataFolder, file);
  const release = lockFolder(dataFolder);
  if (ageOfFile(file) === "newer") throw new NewerDatabaseError(file);
  refuseDamaged(dataFolder, file);

  let pages: Pages = beingBuilt;
  let house: House | null = null;
  const still = standstill(beingPutBack);
  const server = createServer();
  // A copy to be put back may be a gigabyte.
  server.requestTimeout = 300_000;
  server.headersTimeout = 10_000;
  const bound = await bind(server, port);
  server.on(
    "request",
    gated({ scheme: "http", hosts: hostNames(bound), dev, stopping: stopping.signal }, () => pages),
  );
  const phone = options.phone
    ? await openPhoneDoor({
        dataFolder,
        environment: process.env,
        hostname: hostname(),
        interfaces: networkInterfaces(),
        nowMs: Date.now(),
      })
    : null;
  const session = (token: string) => {
    // Closed before it is ready and while a copy is put back.
    return house?.database.$client.open ? sessionOf(house, token) : undefined;
  };
  // After an action from a phone the framework fetches the next page from itself. It cannot do so through the encrypted
  // door, and is sent away at this one; the phone then asks for the page on its own.
  if (phone) process.env.__NEXT_PRIVATE_ORIGIN = `http://${address}:${bound}`;
  phone?.answerBy(
    gated({ scheme: "https", hosts: phone.hosts, dev, stopping: stopping.signal, session }, () => pages),
  );
  for (const signal of ["SIGTERM", "SIGINT"] as const) {
    process.once(signal, () => {
      stopping.abort();
      void finish([server, ...(phone?.servers ?? [])], house?.database ?? null, release);
    });
  }

  if (!dev) {
    const onBuild = () => console.log("Building the pages; this takes about half a minute and happens once.");
    await buildIfStale(root, { onBuild, signal: stopping.signal });
  }
  const opened = openMigrated(file, stampNow());
  if (opened.backup) console.log(`The garden's file was copied to ${opened.backup} before it was updated.`);
  const own = liveHouse(opened.database, dataFolder);
  house = own;
  const { loadHazelClough } = await import("@/seed/hazel-clough");
  own.loadDemo = () => loadHazelClough(own);
  own.backUp = () => backUp(own);
  own.phoneDoor = phone?.door;
  own.lookAtCopy = verifyAside;
  own.putBack = (copy) => putBack(own, still, copy, endWith);
  shareHouse(own);
  if (options.demo) fillWithDemo(own);

  const ready = await preparePages(dev, bound);
  server.on("upgrade", (request, socket, head) => {
    const known = dev && hostNames(bound).includes(request.headers.host ?? "");
    if (!known) return socket.destroy();
    handedOver.add(socket);
    socket.once("close", () => handedOver.delete(socket));
    ready.nextEnd.emit("upgrade", request, socket, head);
  });
  pages = still.through(ready.pages);
  copyDaily(own, stopping.signal);
  console.log(`Proving Bed is at http://${address}:${bound}`);
  for (const line of phone ? sayPhoneDoor(phone.door) : []) console.log(line);
  if (!gardenName(own)) console.log("The file is empty: the first page offers a demo garden.");
}

/** The one line for what a person can mend; null for what should not happen. */
function plainReason(fault: unknown): string | null {
  const plain = [CannotStartError, NewerDatabaseError, UnreadableDatabaseError];
  return plain.some((kind) => fault instanceof kind) ? (fault as Error).message : null;
}

const wanted = process.argv.slice(2);
const dev = wanted.includes("--dev");
Object.assign(process.env, { NODE_ENV: dev ? "development" : "production", NEXT_TELEMETRY_DISABLED: "1" });
try {
  await start({ dev, demo: wanted.includes("--demo"), phone: wanted.includes("--phone") });
} catch (fault) {
  if (!stopping.signal.aborted) {
    if (fault instanceof BuildFailedError) console.error(fault.output);
    const reason = fault instanceof BuildFailedError ? fault.message : plainReason(fault);
    console.error(reason === null ? fault : `Proving Bed cannot start: ${reason}.`);
    process.exit(1);
  }
}
