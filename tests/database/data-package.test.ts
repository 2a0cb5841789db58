import { mkdirSync, writeFileSync } from "node:fs";
import { strFromU8, unzipSync } from "fflate";
import Papa from "papaparse";
import { beforeAll, describe, expect, it } from "vitest";
import { GET as getGarden } from "@/app/files/garden-package/route";
import { GET as getTable } from "@/app/files/tables/[name]/route";
import { inOneAct } from "@/db/open";
import { gardenTables } from "@/lib/records/garden-tables";
import { exportGarden } from "@/lib/service/export-garden";
import { exportTrial } from "@/lib/service/export-trial";
import { gardenView } from "@/lib/service/garden-view";
import { type House, shareHouse } from "@/lib/service/house";
import { pictureFile, pictureFolder } from "@/lib/service/picture-file";
import { loadHazelClough } from "@/seed/hazel-clough";
import { faultsIn } from "../reference/data-package/faults-in";
import { freshHouse, houseWithTrial, send, someFact } from "./fresh-house";

const noTerms = { licence: null, exactPlace: false };

async function unpacked(stream: ReadableStream<Uint8Array>): Promise<Record<string, string>> {
  const files = unzipSync(new Uint8Array(await new Response(stream).arrayBuffer()));
  return Object.fromEntries(Object.entries(files).map(([name, bytes]) => [name, strFromU8(bytes)]));
}

async function gardenFiles(house: House): Promise<Record<string, string>> {
  const made = exportGarden(house, noTerms);
  if (!made) throw new Error("there is no garden");
  return unpacked(made.stream);
}

function rowsOf(text: string): Record<string, string>[] {
  return Papa.parse<Record<string, string>>(text.trimEnd(), { header: true }).data;
}

const counted = {
  observations: "observation",
  plots: "plot",
  cohorts: "cohort",
  entries: "entry",
  verdicts: "verdict",
  rules: "rule",
  amendments: "amendment",
  "cover-placings": "cover_placing",
  "bed-observations": "bed_observation",
};

/** The demo garden as it is taken out, read once: none of the tests here writes. */
async function demoPackages() {
  const house = freshHouse();
  inOneAct(house.database, () => loadHazelClough(house));
  const count = (table: string) =>
    house.database.$client.prepare(`SELECT count(*) FROM ${table}`).pluck().get();
  return {
    files: await gardenFiles(house),
    trials: gardenView(house).trials.map(({ id }) => exportTrial(house, id)?.files ?? {}),
    counts: Object.fromEntries(Object.entries(counted).map(([name, table]) => [name, count(table)])),
  };
}

describe("the demo garden as a Data Package", () => {
  let demo: Awaited<ReturnType<typeof demoPackages>>;
  beforeAll(async () => {
    demo = await demoPackages();
  });

  it("follows the standard's own profile, and every cell its own schema, keys included", () => {
    expect(faultsIn(demo.files)).toEqual([]);
  });

  it("has every row of what was recorded", () => {
    const told = Object.keys(counted).map((name) => [name, rowsOf(demo.files[`${name}.csv`]).length]);
    expect(Object.fromEntries(told)).toEqual(demo.counts);
  });

  it("names who recorded, and calls columns what MIAPPE calls them", () => {
    const described = JSON.parse(demo.files["datapackage.json"]);
    expect(described.contributors.map((one: { title: string }) => one.title)).toContain("Ina");
    expect(described.miappeVersion).toBe("1.2");
    const plots = described.resources.find((one: { name: string }) => one.name === "plots");
    expect(plots.schema.fields[0]).toMatchObject({ name: "id", miappe: "obsUnitId" });
  });

  it("each trial alone follows it too", () => {
    expect(demo.trials.length).toBeGreaterThan(3);
    for (const files of demo.trials) expect(faultsIn(files)).toEqual([]);
  });
});

/** What stays at home: what is derived, lists of words, what guards the doors, and what was noted for the next import. */
const notTaken = [
  "stand",
  "session",
  "pairing",
  "column_mapping",
  "imported_file",
  ...[
    "amendment_kind",
    "assessment_name",
    "bed_fact_kind",
    "bed_fact_unit",
    "bed_setting",
    "design",
    "entry_role",
  ],
  ...["harvest_part", "import_kind", "main_factor", "observation_kind", "observation_unit", "person_role"],
  "verdict_choice",
];
const columnsNotTaken = ["body_hash", "garden_id", "passphrase_hash", "at_home"];
const tableNames: Record<string, string> = {
  people: "person",
  varieties: "variety",
  entries: "entry",
  "taken-up": "taken_up",
  garden: "garden",
  weather: "weather_day",
};

describe("the tables of a package", () => {
  it("are all that the garden's file has, with every column, but for what is named here", () => {
    const { database } = freshHouse();
    const all = (query: string) => database.$client.prepare<[], string>(query).pluck().all();
    const tableOf = (name: string) => tableNames[name] ?? name.replaceAll("-", "_").replace(/s$/, "");
    const taken = new Map(
      gardenTables.map((table) => [tableOf(table.name), table.fields.map((field) => field.name as string)]),
    );
    const kept = all(
      "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE '\\_\\_drizzle%' ESCAPE '\\' AND name NOT LIKE 'sqlite%'",
    );
    expect([...taken.keys(), ...notTaken].toSorted()).toEqual(kept.toSorted());
    taken.delete("weather_day");
    for (const [table, fields] of taken) {
      const columns = all(`SELECT name FROM pragma_table_info('${table}')`);
      expect([table, fields.toSorted()]).toEqual([
        table,
        columns.filter((column) => !columnsNotTaken.includes(column)).toSorted(),
      ]);
    }
  });
});

describe("the checker itself", () => {
  it("finds a broken description, a wrong cell, a doubled key and a name of nothing", () => {
    const { house, trialId } = houseWithTrial();
    const { files } = exportTrial(house, trialId) as NonNullable<ReturnType<typeof exportTrial>>;
    const spoilt = (name: string, change: (text: string) => string) =>
      faultsIn({ ...files, [name]: change(files[name]) }).join("\n");
    expect(
      spoilt("datapackage.json", (text) => text.replace('"type": "integer"', '"type": "whole"')),
    ).toMatch(/datapackage\.json\/resources\/0\/schema/);
    expect(spoilt("assessments.csv", (text) => text.replace("2026-10-11", "2026-13-11"))).toMatch(
      /assessments\.csv:2:due_on is no date/,
    );
    expect(spoilt("entries.csv", (text) => text.replace("Hollin", "Pennick"))).toMatch(
      /entries\.csv repeats variety/,
    );
    expect(spoilt("plots.csv", (text) => text.replaceAll("Hollin", "Nobody"))).toMatch(
      /names nothing in entries/,
    );
    expect(spoilt("trial.csv", (text) => text.replace("rcbd", "scattered"))).toMatch(/is not in its list/);
  });
});

describe("a garden's package", () => {
  it("tells the garden's place to a tenth of a degree, and exactly when asked", async () => {
    const { house } = houseWithTrial();
    house.database.$client.exec("UPDATE garden SET latitude = 54.2371, longitude = -2.3049");
    shareHouse(house);
    const ask = async (query: string) => {
      const answer = await getGarden(new Request(`http://127.0.0.1:3000/files/garden-package${query}`));
      return rowsOf((await unpacked(answer.body as ReadableStream<Uint8Array>))["garden.csv"])[0];
    };
    expect(await ask("")).toMatchObject({ latitude: "54.2", longitude: "-2.3" });
    expect(await ask("?place=exact")).toMatchObject({ latitude: "54.2371", longitude: "-2.3049" });
  });

  it("holds formulas made harmless, and corrections with what they corrected", async () => {
    const { house, trial } = houseWithTrial();
    const seen = someFact(trial.plots[0].id, { note: "=HYPERLINK(1)" });
    send(house, [seen, someFact(trial.plots[0].id, { replaces: seen.id, amount: 3 })]);
    const files = await gardenFiles(house);
    expect(faultsIn(files)).toEqual([]);
    expect(rowsOf(files["observations.csv"])).toMatchObject([
      { id: seen.id, note: "'=HYPERLINK(1)" },
      { replaces: seen.id, amount: "3" },
    ]);
  });

  it("holds the pictures that are there, as they are", async () => {
    const { house } = houseWithTrial();
    const sha256 = "a".repeat(64);
    house.database.$client.exec(
      `INSERT INTO picture VALUES ('${sha256}', 'image/jpeg', 5, '2026-11-25T09:00:00.000Z')`,
    );
    mkdirSync(pictureFolder(house.dataFolder));
    writeFileSync(pictureFile(house.dataFolder, sha256, "image/jpeg"), "bytes");
    const files = await gardenFiles(house);
    expect(faultsIn(files)).toEqual([]);
    expect(files[`pictures/${sha256}.jpg`]).toBe("bytes");
  });

  it("is one moment's state, though facts come in while it is being read", async () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id)]);
    const reader = exportGarden(house, noTerms)?.stream.getReader();
    const pieces = [(await reader?.read())?.value as Uint8Array];
    send(house, [someFact(trial.plots[0].id)]);
    for (let read = await reader?.read(); read && !read.done; read = await reader?.read())
      pieces.push(read.value);
    const files = unzipSync(new Uint8Array(await new Blob(pieces as BlobPart[]).arrayBuffer()));
    expect(rowsOf(strFromU8(files["observations.csv"]))).toHaveLength(1);
  });

  it("given up half way lets the garden's file go", async () => {
    const { house } = houseWithTrial();
    const reader = exportGarden(house, noTerms)?.stream.getReader();
    await reader?.read();
    await reader?.cancel();
    expect(house.database.$client.pragma("wal_checkpoint(TRUNCATE)")).toMatchObject([{ busy: 0 }]);
  });

  it("is not there before there is a garden", async () => {
    shareHouse(freshHouse());
    expect((await getGarden(new Request("http://127.0.0.1:3000/files/garden-package"))).status).toBe(404);
  });
});

describe("a single table", () => {
  const ask = (name: string) =>
    getTable(new Request(`http://127.0.0.1:3000/files/tables/${name}`), {
      params: Promise.resolve({ name }),
    });

  it("comes as a file of its own", async () => {
    shareHouse(houseWithTrial().house);
    const answer = await ask("varieties");
    expect(answer.headers.get("Content-Disposition")).toBe('attachment; filename="varieties.csv"');
    expect(rowsOf(await answer.text()).map((row) => row.name)).toEqual(["Carrow", "Hollin", "Pennick"]);
  });

  it.each(["stand", "observation", "varieties; DROP TABLE plot", "../garden"])(
    "none is named %s",
    async (name) => {
      shareHouse(houseWithTrial().house);
      expect((await ask(name)).status).toBe(404);
    },
  );
});
