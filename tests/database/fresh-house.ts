import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { v7 } from "uuid";
import { afterEach } from "vitest";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, type Database } from "@/db/open";
import { createTrial } from "@/lib/service/create-trial";
import type { House } from "@/lib/service/house";
import { receiveObservations } from "@/lib/service/receive-observations";
import { startGarden } from "@/lib/service/start-garden";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { contractVersion, type FactReply } from "@/lib/sync/contract";
import type { BedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import type { Outcome } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { TrialPlan } from "@/lib/words/trial-plan";

const folders: string[] = [];
const databases: Database[] = [];

/** A folder of its own for one test, gone when the test is over. */
export function freshFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "proving-bed-"));
  folders.push(folder);
  return folder;
}

/** A garden file of its own for one test, made by the real migrations and opened by the real opener. */
export function freshDatabase(): { database: Database; folder: string } {
  const folder = freshFolder();
  const { database } = openMigrated(join(folder, "garden.sqlite"), "test");
  databases.push(database);
  return { database, folder };
}

/** A house over a fresh file whose clock stands where the test puts it. */
export function freshHouse(now = "2026-11-25T09:00:00.000Z"): House & { at: Instant } {
  const { database, folder } = freshDatabase();
  const house = {
    database,
    dataFolder: folder,
    at: now as Instant,
    now: () => house.at,
    newId: () => v7(),
    report: (fault: unknown) => {
      throw fault;
    },
  };
  return house;
}

/** The value of an outcome that the test takes for granted. */
export function given<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.value;
}

/** An invented trial: three varieties of mustard greens, four blocks of three plants, in one bed. */
export function somePlan(changes: Partial<TrialPlan> = {}): TrialPlan {
  return {
    question: "Which mustard stands the winter in the east bed?",
    purpose: "winter leaf",
    crop: "mustard greens",
    entries: [
      { variety: "Pennick", packetClaim: "Stands hard frost.", role: "check" },
      { variety: "Hollin", packetClaim: null, role: "entry" },
      { variety: "Carrow", packetClaim: null, role: "tender-check" },
    ],
    beds: [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }],
    covers: [{ name: "Long net", kind: "insect netting", fromOn: "2026-09-20", untilOn: null }],
    design: "rcbd",
    seed: 20261125,
    blocks: 4,
    plantsPerPlot: 3,
    betweenPlantsMm: 250,
    betweenRowsMm: 300,
    sownOn: "2026-08-20",
    plantedOn: "2026-09-20",
    assessments: [
      { name: "took", dueOn: "2026-10-11" },
      { name: "regrowth", dueOn: "2027-03-20" },
    ],
    decidingAssessment: "regrowth",
    pickingRule: "outer leaves longer than a hand",
    clearBy: "2027-05-01",
    fallbackOn: null,
    rule: {
      survivalFloor: 0.7,
      yieldFloor: 0.9,
      sureness: 0.8,
      qualities: [{ trait: "vigour", weight: "counts for" }],
    },
    ...changes,
  };
}

export const someGarden = {
  name: "Hazel Clough",
  timeZone: "Europe/London",
  latitude: 54.2,
  longitude: -2.3,
  altitudeM: 190,
};

/** A house with a garden and one running trial. */
export function houseWithTrial(changes: Partial<TrialPlan> = {}): {
  house: ReturnType<typeof freshHouse>;
  trialId: string;
  trial: TrialView;
} {
  const house = freshHouse();
  given(startGarden(house, someGarden));
  const { trialId } = given(createTrial(house, somePlan(changes)));
  const trial = trialView(house, trialId);
  if (!trial) throw new Error("the trial just made is not there");
  return { house, trialId, trial };
}

const phone = "0193a1b2-0000-7000-8000-00000000000a";
let count = 0;

/** One fact, as a phone would make it; a stand count of two plants where the test says nothing else. */
export function someFact(plotId: string, changes: Partial<Observation> = {}): Observation {
  count += 1;
  return {
    id: v7(),
    deviceId: phone,
    deviceSequence: count,
    walkaboutId: null,
    plotId,
    cohortOn: null,
    kind: "stand",
    cause: null,
    trait: null,
    part: null,
    amount: 2,
    unit: "plants",
    seenOn: "2026-11-25" as Day,
    recordedAt: "2026-11-25T08:30:00.000Z" as Instant,
    replaces: null,
    by: "Ruth",
    note: null,
    ...changes,
  };
}

/** One fact of a bed; a watering where the test says nothing else. */
export function someBedFact(bedId: string, changes: Partial<BedFact> = {}): BedFact {
  count += 1;
  return {
    id: v7(),
    deviceId: phone,
    deviceSequence: count,
    walkaboutId: null,
    bedId,
    kind: "treatment",
    what: "watered",
    reach: "whole",
    amount: null,
    unit: null,
    seenOn: "2026-11-25" as Day,
    recordedAt: "2026-11-25T08:30:00.000Z" as Instant,
    clockSkewS: null,
    replaces: null,
    picture: null,
    by: "Ruth",
    note: null,
    ...changes,
  };
}

/** Sends facts in one batch and gives the answers. */
export function send(house: House, facts: unknown[]): FactReply[] {
  return given(receiveObservations(house, { contract: contractVersion, facts })).replies;
}

/** Everything that is kept of the record, apart from the order and time of its coming. */
export function keptRecord(database: Database): unknown {
  const all = (query: string) => database.$client.prepare(query).all();
  return {
    observations:
      all(`SELECT id, device_id, device_seq, walkabout_id, trial_id, plot_id, cohort_id, kind, cause, trait,
      part, amount, unit, seen_on, recorded_at, body_hash, replaces, "by", note FROM observation ORDER BY id`),
    beds: all(`SELECT id, device_id, device_seq, walkabout_id, bed_id, kind, what, reach, amount, unit, seen_on,
      recorded_at, clock_skew_s, body_hash, replaces, picture, "by", note FROM bed_observation ORDER BY id`),
    cohorts: all("SELECT * FROM cohort ORDER BY id"),
    causes: all("SELECT * FROM cause ORDER BY code"),
    stands: all("SELECT * FROM stand ORDER BY cohort_id"),
  };
}

afterEach(() => {
  for (const database of databases.splice(0)) if (database.$client.open) closeDatabase(database);
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true });
});
