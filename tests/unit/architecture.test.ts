import { readdirSync, readFileSync } from "node:fs";
import { join, posix } from "node:path";
import { describe, expect, it } from "vitest";

const root = join(import.meta.dirname, "..", "..");

interface Import {
  file: string;
  /** A path from the root for what is ours (`lib/words/day`), else the package's name as written. */
  target: string;
  onlyTypes: boolean;
  names: string;
}

interface Source {
  file: string;
  /** The text without its comments. */
  code: string;
  imports: Import[];
}

function filesUnder(folder: string): string[] {
  return readdirSync(join(root, folder), { recursive: true, encoding: "utf8" })
    .map((name) => posix.join(folder, name.replaceAll("\\", "/")))
    .filter((name) => /\.tsx?$/.test(name));
}

function importsOf(file: string, code: string): Import[] {
  const pattern =
    /(?:import|export)\s+(type\s+)?([^;"'()]*?)\s*from\s*"([^"]+)"|import\s*"([^"]+)"|import\(\s*"([^"]+)"/g;
  return [...code.matchAll(pattern)].map(([, type, names = "", from, bare, dynamic]) => {
    const written = from ?? bare ?? dynamic;
    const target = written.startsWith("@/")
      ? written.slice(2)
      : written.startsWith(".")
        ? posix.join(posix.dirname(file), written)
        : written;
    const listed = names.replace(/^\{|\}$/g, "").split(",");
    const eachType =
      names.startsWith("{") && listed.every((name) => name.trim() === "" || /^\s*type\s/.test(name));
    return { file, target, onlyTypes: type !== undefined || eachType, names };
  });
}

const sources: Source[] = ["app", "lib", "db", "seed"].flatMap(filesUnder).map((file) => {
  const code = readFileSync(join(root, file), "utf8")
    .replace(/\/\*[\s\S]*?\*\//g, "")
    .replace(/(^|\s)\/\/.*$/gm, "$1");
  return { file, code, imports: importsOf(file, code) };
});

function inRoom(path: string, rooms: readonly string[]): boolean {
  return rooms.some((room) => path === room || path.startsWith(`${room}/`));
}

/** The imports made in these rooms that the rule does not allow, as lines to read. */
function against(rooms: readonly string[], isAllowed: (line: Import) => boolean): string[] {
  return sources
    .filter((source) => inRoom(source.file, rooms))
    .flatMap((source) => source.imports)
    .filter((line) => !isAllowed(line))
    .map((line) => `${line.file} imports ${line.target}`);
}

/** The files outside these rooms whose code holds the pattern. */
function holding(pattern: RegExp, except: readonly string[]): string[] {
  return sources
    .filter((source) => !inRoom(source.file, except) && pattern.test(source.code))
    .map((source) => source.file);
}

const ours = ["app", "lib", "db", "seed", "tests"];
const pure = ["words", "statistics", "design", "journal", "analysis", "report", "figure", "records"].map(
  (room) => `lib/${room}`,
);

/** Which of our rooms each room may import; `types` only as types. */
const arrows: Record<string, { values: string[]; types?: string[] }> = {
  "lib/words": { values: [] },
  "lib/statistics": { values: [] },
  "lib/design": { values: ["lib/statistics", "lib/words"] },
  "lib/journal": { values: ["lib/words"] },
  "lib/analysis": { values: ["lib/statistics", "lib/design", "lib/journal", "lib/words"] },
  "lib/report": { values: ["lib/words"], types: ["lib/analysis"] },
  "lib/figure": { values: ["lib/words"], types: ["lib/analysis"] },
  "lib/records": { values: ["lib/words"], types: ["lib/analysis"] },
  "lib/sync": { values: ["lib/words", "lib/journal"] },
  "lib/service": { values: ["lib", "db"] },
  "lib/command": { values: ["lib", "db", "seed"] },
  db: { values: ["lib/words"] },
  // The demo's gardeners record as a phone does: by the contract, and with the journal's rule for filled gaps.
  seed: { values: ["lib/service", "lib/design", "lib/statistics", "lib/sync", "lib/journal", "lib/words"] },
  app: {
    values: ["lib/service", "lib/report", "lib/figure", "lib/words", "lib/sync"],
    types: ["lib/analysis"],
  },
};

describe("the arrows between the rooms", () => {
  it("are read from real import lines", () => {
    const count = sources.reduce((sum, source) => sum + source.imports.length, 0);
    expect(count).toBeGreaterThan(100);
  });

  it.each(Object.entries(arrows))("%s imports only what it may", (room, { values, types = [] }) => {
    const wrong = against([room], ({ target, onlyTypes }) => {
      if (!inRoom(target, ours) || inRoom(target, [room, ...values])) return true;
      return onlyTypes && inRoom(target, types);
    });
    expect(wrong).toEqual([]);
  });

  it("nothing imports the tests", () => {
    expect(against(["app", "lib", "db", "seed"], ({ target }) => !inRoom(target, ["tests"]))).toEqual([]);
  });
});

describe("1. statistics", () => {
  const alone = ["lib/statistics"];
  it("imports nothing of ours", () => {
    expect(against(alone, ({ target }) => !inRoom(target, ours) || inRoom(target, alone))).toEqual([]);
  });

  it("has no clock, no Math.random and no way in or out", () => {
    const wrong = sources.filter(
      ({ file, code }) =>
        inRoom(file, alone) && /\bDate\b|Math\.random|performance\.|process\.|fetch\(|console\./.test(code),
    );
    expect(wrong.map((source) => source.file)).toEqual([]);
  });

  it("takes only descriptives from simple-statistics", () => {
    const descriptive =
      /^\{?\s*((mean|median|quantile|sampleVariance|sampleStandardDeviation|sum)\s*,?\s*)*\}?$/;
    const wrong = against(
      ours,
      ({ target, names }) => target !== "simple-statistics" || descriptive.test(names),
    );
    expect(wrong).toEqual([]);
  });
});

it("2. drizzle and SQLite are imported in db only", () => {
  const outside = ["app", "lib", "seed"];
  expect(
    against(outside, ({ target }) => !/^(drizzle-orm|drizzle-kit|better-sqlite3)(\/|$)/.test(target)),
  ).toEqual([]);
});

describe("3. app", () => {
  it("never imports the database, statistics, analysis or the journal", () => {
    const closed = ["db", "lib/statistics", "lib/analysis", "lib/journal", "lib/design"];
    expect(against(["app"], ({ target, onlyTypes }) => onlyTypes || !inRoom(target, closed))).toEqual([]);
    expect(against(["app"], ({ target }) => !inRoom(target, ["db"]))).toEqual([]);
  });

  it("files marked for the browser never import the service or the database, not even their types' files as values", () => {
    const wrong = sources
      .filter(({ code }) => /^\s*"use client"/.test(code))
      .flatMap((source) => source.imports)
      .filter(({ target, onlyTypes }) => !onlyTypes && inRoom(target, ["lib/service", "db", "lib/command"]))
      .map((line) => `${line.file} imports ${line.target}`);
    expect(wrong).toEqual([]);
  });

  it("what runs on the phone never imports Node, the service or the database, and takes zod's small entry", () => {
    const onPhone = ["lib/sync", "lib/words", "lib/journal"];
    const closed = /^(node:|lib\/service|lib\/command|db(\/|$)|zod$)/;
    expect(against(onPhone, ({ target }) => !closed.test(target))).toEqual([]);
  });
});

it("4. the pure rooms never import Node, Next, React or drizzle", () => {
  const closed = /^(node:|next(\/|$)|react(-dom)?(\/|$)|drizzle-orm|better-sqlite3)/;
  expect(against(pure, ({ target }) => !closed.test(target))).toEqual([]);
});

it("5. the clock and random ids are read only in app, command, service and on the device", () => {
  const clock = /new Date\(\s*\)|Date\.now\(|crypto\.randomUUID|Math\.random\(|performance\.now\(/;
  expect(holding(clock, ["app", "lib/command", "lib/service", "lib/sync/device"])).toEqual([]);
});

it("6. only commands print", () => {
  expect(holding(/\bconsole\./, ["lib/command"])).toEqual([]);
});

it("7. no room has a barrel", () => {
  const barrels = sources.filter(({ file }) => /(^|\/)index\.tsx?$/.test(file)).map((source) => source.file);
  expect(barrels).toEqual([]);
});

it("8. observations are appended and listed; no query changes or takes one away", () => {
  const change =
    /\.(update|delete)\(\s*(observation|rule|amendment|verdict)\b|\b(UPDATE|DELETE\s+FROM|REPLACE\s+INTO)\s+"?(observation|rule|amendment|verdict)\b/i;
  expect(holding(change, [])).toEqual([]);
});
