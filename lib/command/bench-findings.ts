import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { openMigrated } from "@/db/migrate";
import { closeDatabase, inOneAct } from "@/db/open";
import { createTrial } from "@/lib/service/create-trial";
import type { House } from "@/lib/service/house";
import { keepTogether } from "@/lib/service/keep-fact";
import { startGarden } from "@/lib/service/start-garden";
import { trialFindings } from "@/lib/service/trial-findings";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { randomStream } from "@/lib/statistics/random-stream";
import { draftFact } from "@/lib/sync/device/fact-draft";
import { addDays, type Day } from "@/lib/words/day";
import type { Outcome } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { TrialPlan } from "@/lib/words/trial-plan";
import { liveHouse } from "./live-house";

const blocks = 6;
const plantsPerPlot = 8;
const walkabouts = 12;
const everyDays = 19;
/** Plots are picked from this walkabout on. */
const firstPick = 6;
const plantedOn = "2026-09-10" as Day;
const phone = "01980000-0000-7000-8000-0000000000b6";
const varieties = ["Hollin", "Thornlea", "Pennick", "Carrow", "Tansy Mill", "Longstone"];

function taken<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok)
    throw new Error(`the bench requires a record that is taken; got ${JSON.stringify(outcome.faults)}`);
  return outcome.value;
}

const plan: TrialPlan = {
  question: "Which mustard greens stand the winter?",
  purpose: "winter leaf",
  crop: "mustard greens",
  entries: varieties.map((variety, index) => ({
    variety,
    packetClaim: null,
    role: index === 0 ? "check" : index === 1 ? "tender-check" : "entry",
  })),
  beds: [{ name: "Long bed", widthMm: 1_200, lengthMm: 25_000 }],
  covers: [],
  design: "rcbd",
  seed: 36,
  blocks,
  plantsPerPlot,
  betweenPlantsMm: 300,
  betweenRowsMm: 300,
  sownOn: addDays(plantedOn, -35),
  plantedOn,
  assessments: [
    { name: "took", dueOn: addDays(plantedOn, everyDays) },
    { name: "regrowth", dueOn: addDays(plantedOn, everyDays * walkabouts) },
  ],
  decidingAssessment: "regrowth",
  pickingRule: "Outer leaves longer than a hand.",
  clearBy: addDays(plantedOn, everyDays * walkabouts + 30),
  fallbackOn: null,
  rule: { survivalFloor: 0.6, yieldFloor: 0.75, sureness: 0.8, qualities: [] },
};

type Saying = Pick<Observation, "plotId" | "kind" | "seenOn"> & Partial<Observation>;

/** Twelve rounds: what was lost to what, every stand, a score, and from midwinter on every plot picked. */
function* sayings({ plots, entries }: TrialView): Generator<Saying> {
  const stream = randomStream(1);
  const standing = new Map(plots.map((plot) => [plot.id, plot.plants]));
  for (let round = 1; round <= walkabouts; round += 1) {
    const seenOn = addDays(plantedOn, everyDays * round);
    for (const { id: plotId, entryId } of plots) {
      const before = standing.get(plotId) ?? 0;
      const tenderness = entries.findIndex((entry) => entry.id === entryId);
      if (before > 0 && stream.whole(40) < 2 + tenderness * 2) {
        standing.set(plotId, before - 1);
        const cause = ["slugs", "cold", "rot", "birds"][stream.whole(4)];
        yield { plotId, kind: "loss", seenOn, cause, amount: 1, unit: "plants" };
      }
      yield { plotId, kind: "stand", seenOn, amount: standing.get(plotId) ?? 0, unit: "plants" };
      yield { plotId, kind: "score", seenOn, trait: "cold damage", amount: stream.whole(10), unit: "score" };
      const amount = (standing.get(plotId) ?? 0) * (20 + stream.whole(30));
      if (round >= firstPick) yield { plotId, kind: "harvest", seenOn, part: "leaf", amount, unit: "g" };
    }
  }
}

/** Findings of one trial as a page asks for them. */
export interface FindingsBench {
  /** One more fact comes in, so that nothing that was worked out before holds any longer. */
  change(): void;
  /** The record read and worked out, but for what comes of dealing the layout again. */
  ask(): unknown;
  close(): void;
}

/** A trial of 36 plots that 12 walkabouts have seen, in a garden of its own that `close` takes away. */
export function findingsBench(): FindingsBench {
  const folder = mkdtempSync(join(tmpdir(), "bench-findings-"));
  const { database } = openMigrated(join(folder, "garden.sqlite"), "bench");
  const until = addDays(plantedOn, everyDays * walkabouts);
  const house: House = { ...liveHouse(database, folder), now: () => `${until}T18:00:00.000Z` as Instant };
  let count = 0;
  const factOf = (saying: Saying): Observation => {
    count += 1;
    return {
      id: house.newId(),
      deviceId: phone,
      deviceSequence: count,
      recordedAt: `${saying.seenOn}T10:00:00.000Z` as Instant,
      ...draftFact({ by: "Ina", ...saying }),
    };
  };
  const keep = (some: Iterable<Saying>) =>
    inOneAct(database, () => {
      const keeping = keepTogether(house);
      for (const saying of some) keeping.keep(factOf(saying));
      keeping.finish();
    });
  const garden = { name: "Hazel Clough", timeZone: "Europe/London", latitude: 54.2, longitude: -2.3 };
  taken(startGarden(house, { ...garden, altitudeM: 190 }));
  const before: House = { ...house, now: () => `${plan.sownOn}T09:00:00.000Z` as Instant };
  const { trialId } = taken(createTrial(before, plan));
  const trial = trialView(house, trialId) as TrialView;
  keep(sayings(trial));
  return {
    change: () => keep([{ plotId: trial.plots[0].id, kind: "note", seenOn: until, note: "Looked again." }]),
    ask: () => trialFindings(house, trialId),
    close() {
      closeDatabase(database);
      rmSync(folder, { recursive: true });
    },
  };
}
