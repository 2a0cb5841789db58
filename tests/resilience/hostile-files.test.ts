import { strToU8, zipSync } from "fflate";
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { describe, expect, it } from "vitest";
import type { Database } from "@/db/open";
import { guessMapping } from "@/lib/records/column-mapping";
import { importFields, type MappedKind } from "@/lib/records/import-fields";
import { openTable, type SourceFile } from "@/lib/records/open-table";
import { checkHouse } from "@/lib/service/check-house";
import { exportTrial } from "@/lib/service/export-trial";
import type { House } from "@/lib/service/house";
import type { ImportAnswer, ImportAsked } from "@/lib/service/import-asked";
import { importFiles } from "@/lib/service/import-files";
import { unsentFile } from "@/lib/sync/device/unsent-file";
import { houseWithTrial, send, someFact } from "../database/fresh-house";

const count = 10_000;
const seed = 20261125;
const filesPerHouse = 2_000;

type Kind = ImportAsked["kind"];
interface Sample {
  kind: Kind;
  files: Record<string, Uint8Array>;
}

/** One number from 0 up to a limit, from the seeded stream. */
type Draw = (limit: number) => number;

function drawer(from: number): Draw {
  const stream = xoroshiro128plus(from);
  return (limit) => Math.floor(((stream.next() >>> 0) / 2 ** 32) * limit);
}

/** Files as they really come, for everything that can come in. */
function realFiles(house: House, trialId: string, plotId: string): Sample[] {
  const exported = exportTrial(house, trialId)?.files ?? {};
  const trial = Object.fromEntries(Object.entries(exported).map(([name, text]) => [name, strToU8(text)]));
  const facts = [someFact(plotId), someFact(plotId, { kind: "loss", cause: "slugs", amount: 1 })];
  const entries = facts.map((fact, sequence) => ({ id: fact.id, state: "waiting", sequence, fact }));
  const unsent = unsentFile(entries as never, house.now());
  const weather =
    "day,min_c,max_c,place\n2027-01-03,-4.2,1,outside\n2027-01-04,-3,2.5,Long net\n2027-01-05,0,3,\n";
  const spreadsheet = [
    "Mustard;;;;",
    "Date;Plot;Weight;Remarks;Who",
    "03/04/2027;A1;1,2 kg;wet;Ina",
    "25/04/2027;A2;450;“late”;Ruth",
    "26/04/2027;B1;;=SUM(A1);",
  ].join("\r\n");
  const varieties = "Crop\tVariety\tPacket claim\nKale\tThornlea\tStands snow.\nLeek\tTansy Mill\t'=1+1\n";
  return [
    { kind: "trial", files: { "trial.zip": zipSync(trial) } },
    { kind: "trial", files: trial },
    {
      kind: "trial",
      files: { "plots.csv": trial["plots.csv"], "observations.csv": trial["observations.csv"] },
    },
    { kind: "observations", files: { "observations.csv": trial["observations.csv"] } },
    { kind: "observations", files: { "old.csv": strToU8(spreadsheet) } },
    { kind: "weather", files: { "weather.csv": strToU8(weather) } },
    { kind: "varieties", files: { "varieties.tsv": strToU8(varieties) } },
    { kind: "unsent", files: { "unsent.json": strToU8(JSON.stringify(unsent)) } },
  ];
}

const nasty = [
  '"',
  '""',
  '","',
  ",",
  ";",
  "\t",
  "\n",
  "\r",
  "\0",
  "\u0007",
  "\uFEFF",
  "\u202e",
  "=HYPERLINK(1)",
  "'=1+1",
  "@SUM",
  "-1",
  "1e999",
  "99999999999999999999",
  "NaN",
  "1,200",
  "1.200",
  "31/02/2027",
  "2027-02-30",
  "0000-00-00",
  "__proto__",
  "constructor",
  "../../etc/passwd",
  "'; DROP TABLE observation; --",
  "<script>alert(1)</script>",
  "💥".repeat(50),
  "x".repeat(11_000),
  '"'.repeat(3_001),
  "null",
  "{}",
  "[[[[",
];

function spliced(bytes: Uint8Array, at: number, gone: number, put: Uint8Array): Uint8Array {
  const made = new Uint8Array(bytes.length - gone + put.length);
  made.set(bytes.subarray(0, at));
  made.set(put, at);
  made.set(bytes.subarray(at + gone), at + put.length);
  return made;
}

function inUtf16(bytes: Uint8Array): Uint8Array {
  const text = `\uFEFF${new TextDecoder().decode(bytes)}`;
  const made = new Uint8Array(text.length * 2);
  for (let index = 0; index < text.length; index += 1) {
    made[index * 2] = text.charCodeAt(index) & 255;
    made[index * 2 + 1] = text.charCodeAt(index) >> 8;
  }
  return made;
}

/** Ways of spoiling a file's bytes. */
const spoilers: ((bytes: Uint8Array, draw: Draw) => Uint8Array)[] = [
  (bytes, draw) => bytes.subarray(0, draw(bytes.length)),
  (bytes, draw) => bytes.subarray(draw(bytes.length)),
  (bytes, draw) => {
    const made = bytes.slice();
    for (let times = draw(12) + 1; times > 0; times -= 1) made[draw(made.length)] = draw(256);
    return made;
  },
  (bytes, draw) => spliced(bytes, draw(bytes.length), 0, strToU8(nasty[draw(nasty.length)])),
  (bytes, draw) => {
    const at = draw(bytes.length);
    return spliced(bytes, at, Math.min(bytes.length - at, draw(20)), strToU8(nasty[draw(nasty.length)]));
  },
  (bytes, draw) => {
    const lines = new TextDecoder().decode(bytes).split("\n");
    const from = draw(lines.length);
    lines.splice(draw(lines.length), 0, lines[from], lines[from]);
    return strToU8(lines.join("\n"));
  },
  (bytes, draw) => {
    const lines = new TextDecoder().decode(bytes).split("\n");
    lines.splice(draw(lines.length), 1);
    return strToU8(lines.join("\n"));
  },
  (bytes, draw) => {
    const cells = new TextDecoder().decode(bytes).split(/([,;\t\n])/);
    const at = draw(cells.length);
    cells[at] = nasty[draw(nasty.length)];
    return strToU8(cells.join(""));
  },
  (bytes) => inUtf16(bytes),
  (bytes, draw) => inUtf16(bytes).subarray(0, draw(bytes.length * 2)),
  (bytes) => Uint8Array.from(new TextDecoder().decode(bytes), (letter) => letter.charCodeAt(0) & 255),
  (_, draw) => Uint8Array.from({ length: draw(3_000) }, () => draw(256)),
  (bytes, draw) => strToU8(new TextDecoder().decode(bytes).replaceAll(",", ";\t|"[draw(3)])),
];

/** Zips that mean harm, and zips with one spoilt file in them. */
function hostileZip(files: Record<string, Uint8Array>, draw: Draw): Uint8Array {
  const names = Object.keys(files);
  const name = names[draw(names.length)];
  switch (draw(6)) {
    case 0:
      return zipSync({ [`../${name}`]: files[name] });
    case 1:
      return zipSync({ ...files, "/etc/plots.csv": files[name] });
    case 2:
      return zipSync({ ...files, "C:\\plots.csv": files[name] });
    case 3:
      return zipSync({ "a/plots.csv": files[name], "b/plots.csv": files[name] });
    case 4:
      return zipSync({ "inner.zip": zipSync(files), [name]: files[name] });
    default:
      return zipSync({ ...files, [name]: spoilers[draw(spoilers.length)](files[name], draw) }, { level: 1 });
  }
}

function spoilt(sample: Sample, draw: Draw): Record<string, Uint8Array> {
  const names = Object.keys(sample.files);
  if (sample.kind === "trial" && names.length > 3 && draw(3) === 0)
    return { "trial.zip": hostileZip(sample.files, draw) };
  const files = { ...sample.files };
  for (let times = 1 + draw(3); times > 0; times -= 1) {
    const name = names[draw(names.length)];
    if (files[name].length > 0) files[name] = spoilers[draw(spoilers.length)](files[name], draw);
  }
  return files;
}

function sourcesOf(files: Record<string, Uint8Array>): SourceFile[] {
  return Object.entries(files).map(([name, bytes]) => ({
    name,
    *chunks() {
      for (let at = 0; at < bytes.length; at += 4_096) yield bytes.subarray(at, at + 4_096);
    },
  }));
}

function askedOf(kind: Kind, sources: SourceFile[], trialId: string, draw: Draw): ImportAsked {
  const opened = kind in importFields ? openTable(sources[0]) : null;
  const mapping = opened?.ok ? guessMapping(opened.value.columns, importFields[kind as MappedKind]) : {};
  if (kind === "observations" && !mapping.kind) mapping.kind = { same: "harvest" };
  const dayOrder = ([null, "day first", "month first"] as const)[draw(3)];
  const trial = { question: "Which stands?", crop: "mustard", check: "" };
  return { kind, trialId, mapping, dayOrder, skipBlank: draw(2) === 0, trial };
}

const tables = [
  "observation",
  "cohort",
  "cause",
  "weather_day",
  "variety",
  "crop",
  "trial",
  "plot",
  "entry",
  "bed",
  "cover",
  "imported_file",
];
const counting = `SELECT ${tables.map((table) => `(SELECT count(*) FROM ${table})`).join(" || ' ' || ")}`;

function rowsIn(database: Database): unknown {
  return database.$client.prepare(counting).pluck().get();
}

/** A claim that changes is an addition without a row. */
const changesClaims = (said: string) => said.startsWith("The packet’s claim changes");

/** What is wrong with an answer; null where it is as it should be. */
function amiss(answer: ImportAnswer, before: unknown, after: unknown): string | null {
  if (answer.state !== "done" && before !== after) return `${answer.state}, yet rows were written`;
  if (answer.state === "done" && answer.added > 0 !== (before !== after) && !answer.said.some(changesClaims))
    return `${answer.added} added, yet the rows say otherwise`;
  if (answer.state !== "faulty") return null;
  if (answer.faults.length === 0 || answer.count < answer.faults.length) return "faulty without its faults";
  return answer.faults.every(({ place, found, wanted }) => place && found && wanted)
    ? null
    : "a fault without its parts";
}

describe("ten thousand malformed and hostile files", () => {
  it("neither end the program nor leave anything half written, and every refusal says why", {
    timeout: 600_000,
  }, () => {
    const draw = drawer(seed);
    const states: Record<string, number> = {};
    const wrong: string[] = [];
    let made: ReturnType<typeof houseWithTrial> | null = null;
    let samples: Sample[] = [];
    for (let number = 0; number < count; number += 1) {
      if (number % filesPerHouse === 0) {
        if (made) expect(checkHouse(made.house).wrong).toEqual([]);
        made = houseWithTrial();
        const [one, two] = made.trial.plots;
        send(made.house, [
          someFact(one.id),
          someFact(two.id, { kind: "loss", cause: "slugs", amount: 1, note: "wet, “cold”" }),
          someFact(two.id, { kind: "harvest", unit: "g", part: "leaf", amount: 450 }),
        ]);
        samples = realFiles(made.house, made.trialId, one.id);
      }
      if (!made) continue;
      const { house, trialId } = made;
      const sample = samples[draw(samples.length)];
      const sources = sourcesOf(spoilt(sample, draw));
      const asked = askedOf(sample.kind, sources, trialId, draw);
      const before = rowsIn(house.database);
      try {
        const answer = importFiles(house, asked, sources, {
          isWriting: draw(2) === 0,
          steps: { isStopped: () => false },
        });
        states[answer.state] = (states[answer.state] ?? 0) + 1;
        const fault = amiss(answer, before, rowsIn(house.database));
        if (fault) wrong.push(`${number} (${sample.kind}): ${fault}`);
      } catch (fault) {
        wrong.push(`${number} (${sample.kind}): ${(fault as Error).stack}`);
      }
    }
    expect(wrong).toEqual([]);
    expect(states.faulty).toBeGreaterThan(count / 3);
    expect(states.done).toBeGreaterThan(count / 50);
    if (made) {
      expect(checkHouse(made.house).wrong).toEqual([]);
      expect(made.house.database.$client.pragma("integrity_check", { simple: true })).toBe("ok");
      expect(made.house.database.$client.pragma("foreign_key_check")).toEqual([]);
    }
  });
});
