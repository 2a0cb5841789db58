import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { expect, it } from "vitest";
import { inOneAct } from "@/db/open";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { checkHouse } from "@/lib/service/check-house";
import { exportGarden } from "@/lib/service/export-garden";
import { gardenView } from "@/lib/service/garden-view";
import type { House } from "@/lib/service/house";
import { importGarden } from "@/lib/service/import-garden";
import { trialRecord } from "@/lib/service/trial-record";
import { loadHazelClough } from "@/seed/hazel-clough";
import { freshHouse, keptRecord } from "./fresh-house";

const going = { isStopped: () => false };

async function packageOf(house: House): Promise<Uint8Array> {
  const made = exportGarden(house, { licence: null, exactPlace: true });
  if (!made) throw new Error("there is no garden");
  return new Uint8Array(await new Response(made.stream).arrayBuffer());
}

function take(house: House, zip: Uint8Array, isWriting = true) {
  const file = { name: "garden.zip", chunks: () => [zip] };
  return importGarden(house, [file], { isWriting, steps: going });
}

/** Every row of everything, but for what tells when it came home here. */
function wholeRecord({ database }: House) {
  const all = (query: string) => database.$client.prepare(query).all();
  const tables = [
    "garden",
    "bed",
    "cover",
    "crop",
    "variety",
    "trial",
    "trial_bed",
    "taken_up",
    "cover_placing",
  ];
  tables.push(
    "main_level",
    "companion",
    "assessment",
    "entry",
    "sowing",
    "rule",
    "plot",
    "amendment",
    "verdict",
  );
  return {
    record: keptRecord(database),
    bedFacts: all(
      `SELECT id, device_id, device_seq, bed_id, kind, what, reach, amount, unit, seen_on, recorded_at, body_hash, note
       FROM bed_observation ORDER BY id`,
    ),
    weather: all("SELECT day, place, min_deci_c, max_deci_c FROM weather_day ORDER BY day, place"),
    rest: tables.map((table) => all(`SELECT * FROM ${table} ORDER BY 1, 2`)),
  };
}

it("a whole garden that is taken out and into an empty folder is the same record, with the same figures", async () => {
  const demo = freshHouse();
  inOneAct(demo.database, () => loadHazelClough(demo));
  const zip = await packageOf(demo);
  const house = freshHouse();
  expect(take(house, zip, false)).toEqual(expect.objectContaining({ state: "ready" }));
  expect(gardenView(house).garden).toBeNull();
  expect(take(house, zip)).toMatchObject({ state: "done", already: 0 });
  expect(wholeRecord(house)).toEqual(wholeRecord(demo));
  expect(checkHouse(house).wrong).toEqual([]);
  for (const { id } of gardenView(demo).trials) {
    const [told, kept] = [trialRecord(house, id), trialRecord(demo, id)];
    if (!told || !kept) throw new Error("a trial is missing");
    const options = { withoutRedealing: true };
    expect(analyseTrial(told, options)).toEqual(analyseTrial(kept, options));
  }
  expect(take(house, zip)).toMatchObject({
    state: "faulty",
    faults: [{ wanted: "a data folder without a garden" }],
  });

  const files = unzipSync(zip);
  const spoilt = (name: string, change: (text: string) => string) =>
    take(freshHouse(), zipSync({ ...files, [name]: strToU8(change(strFromU8(files[name]))) }));
  expect(spoilt("plots.csv", (text) => text.replace(/\r\n.*\r\n/, "\r\n"))).toMatchObject({
    state: "faulty",
  });
  expect(spoilt("observations.csv", (text) => text.replace(",stand,", ",eaten,"))).toMatchObject({
    state: "faulty",
    faults: [{ place: expect.stringMatching(/^observations\.csv:\d+:kind$/), found: "eaten" }],
  });
});
