import { closeTrial } from "@/lib/service/close-trial";
import { createTrial } from "@/lib/service/create-trial";
import type { House } from "@/lib/service/house";
import { keepTogether } from "@/lib/service/keep-fact";
import { recordVerdict } from "@/lib/service/record-verdict";
import { startGarden } from "@/lib/service/start-garden";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { type RandomStream, randomStream } from "@/lib/statistics/random-stream";
import { draftFact } from "@/lib/sync/device/fact-draft";
import { addDays, type Day } from "@/lib/words/day";
import type { Outcome } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { TrialPlan } from "@/lib/words/trial-plan";

/** Six trials of thirty plots each winter, with so many facts in each: ten winters hold 200,000. */
const trialsPerWinter = 6;
const factsPerTrial = 3_334;
const crops = ["mustard greens", "kale", "leeks", "chard", "spinach", "lamb's lettuce"];
const firsts = ["Pen", "Hol", "Car", "Thorn", "Wick", "Long", "Grey", "Ash"];
const seconds = ["nick", "lin", "row", "lea", "mill", "stone", "friar", "garth"];
const traits = ["cold damage", "vigour", "colour", "mildew", "bitterness"];
const phone = "01980000-0000-7000-8000-0000000000d4";

function taken<Value>(outcome: Outcome<Value>): Value {
  if (!outcome.ok)
    throw new Error(`manyWinters requires a record that is taken; got ${JSON.stringify(outcome.faults)}`);
  return outcome.value;
}

/** Five varieties a crop and ten winters: as time goes on others are grown. */
function varieties(winter: number): string[] {
  const first = Math.floor(winter / 10) * 5;
  return Array.from({ length: 5 }, (_, index) => {
    const one = first + index;
    return firsts[one % firsts.length] + seconds[(one + Math.floor(one / firsts.length)) % seconds.length];
  });
}

interface Place {
  /** Counted from the first. */
  winter: number;
  /** Which of the winter's six. */
  position: number;
  plantedOn: Day;
  bed: string;
}

function planOf({ winter, position, plantedOn, bed }: Place): TrialPlan {
  const crop = crops[position];
  const after = (days: number) => addDays(plantedOn, days);
  return {
    question: `Which ${crop} stand the winter of ${plantedOn.slice(0, 4)}?`,
    purpose: "winter leaf",
    crop,
    entries: varieties(winter).map((variety, index) => ({
      variety,
      packetClaim: null,
      role: index === 0 ? "check" : index === 1 ? "tender-check" : "entry",
    })),
    beds: [{ name: bed, widthMm: 1_200, lengthMm: 17_000 }],
    covers: [{ name: `Fleece ${position + 1}`, kind: "fleece", fromOn: after(50), untilOn: after(190) }],
    design: "rcbd",
    seed: winter * trialsPerWinter + position,
    blocks: 6,
    plantsPerPlot: 6,
    betweenPlantsMm: 300,
    betweenRowsMm: 300,
    sownOn: addDays(plantedOn, -35),
    plantedOn,
    assessments: [
      { name: "took", dueOn: after(21) },
      { name: "midwinter", dueOn: after(130) },
      { name: "regrowth", dueOn: after(195) },
      { name: "end", dueOn: after(230) },
    ],
    decidingAssessment: "regrowth",
    pickingRule: "Outer leaves longer than a hand.",
    clearBy: after(240),
    fallbackOn: null,
    rule: {
      survivalFloor: 0.6,
      yieldFloor: 0.75,
      sureness: 0.8,
      qualities: [{ trait: "vigour", weight: "counts for" }],
    },
  };
}

type Saying = Pick<Observation, "plotId" | "kind" | "seenOn"> & Partial<Observation>;

/** A winter's facts of one trial: weekly walks with losses and counts, weekly picks, scores. */
function* sayings(trial: TrialView, until: Day, stream: RandomStream): Generator<Saying> {
  const standing = new Map(trial.plots.map((plot) => [plot.id, plot.plants]));
  for (let week = 0; ; week += 1) {
    const seenOn = addDays(trial.plantedOn, 3 + week * 7);
    if (seenOn > until) return;
    for (const { id: plotId } of trial.plots) {
      const before = standing.get(plotId) ?? 0;
      if (before > 0 && stream.whole(100) < 2) {
        standing.set(plotId, before - 1);
        yield {
          plotId,
          kind: "loss",
          seenOn,
          cause: ["slugs", "cold", "rot", "birds"][stream.whole(4)],
          amount: 1,
          unit: "plants",
        };
      }
      yield { plotId, kind: "stand", seenOn, amount: standing.get(plotId) ?? 0, unit: "plants" };
      if (week > 4)
        yield {
          plotId,
          kind: "harvest",
          seenOn,
          part: "leaf",
          amount: before * (20 + stream.whole(30)),
          unit: "g",
        };
      for (const trait of traits.slice(0, week % 2 === 0 ? 2 : 1))
        yield { plotId, kind: "score", seenOn, trait, amount: stream.whole(10), unit: "score" };
    }
  }
}

function record(house: House, trial: TrialView, until: Day): void {
  const stream = randomStream(trial.seed);
  const keeping = keepTogether(house);
  let count = 0;
  for (const saying of sayings(trial, until, stream)) {
    count += 1;
    if (count > factsPerTrial) break;
    keeping.keep({
      id: house.newId(),
      deviceId: phone,
      deviceSequence: trial.seed * factsPerTrial + count,
      recordedAt: `${saying.seenOn}T10:00:00.000Z` as Instant,
      ...draftFact({ by: "Ina", ...saying }),
    });
  }
  keeping.finish();
}

function judge(house: House, trial: TrialView): void {
  taken(closeTrial(house, trial.id, { reason: "Bed wanted for beans; everything assessed.", by: "Ina" }));
  for (const { id: entryId, role } of trial.entries)
    if (role === "entry")
      taken(
        recordVerdict(house, {
          trialId: trial.id,
          entryId,
          choice: "try once more",
          reason: "On one winter only.",
          by: "Ina",
        }),
      );
}

/** Every trial's place: six each winter, back from the last that is over, and six more that are in the ground today. */
function places(winters: number, today: Day): Place[] {
  const thisYear = Number(today.slice(0, 4));
  const lastYear = today > `${thisYear}-05-31` ? thisYear - 1 : thisYear - 2;
  return Array.from({ length: (winters + 1) * trialsPerWinter }, (_, index): Place => {
    const winter = Math.floor(index / trialsPerWinter);
    const position = index % trialsPerWinter;
    if (winter === winters)
      return { winter, position, plantedOn: addDays(today, -70), bed: `Wall bed ${position + 1}` };
    const plantedOn = `${lastYear - winters + 1 + winter}-09-${10 + position}` as Day;
    return { winter, position, plantedOn, bed: `Long bed ${position + 1}` };
  });
}

/**
 * The record of a house that has kept one for so many winters, to measure pages against: six trials of thirty plots each
 * winter, closed and judged, with 3,334 facts each, and six that are in the ground. Invented, and the same each time but
 * for its ids and the day. Each step is to be run in one act of its own; each cohort is folded once.
 */
export function manyWinters(house: House, winters: number): (() => void)[] {
  const today = house.now().slice(0, 10) as Day;
  const on = (day: Day): House => ({ ...house, now: () => `${day}T18:00:00.000Z` as Instant });
  const all = places(winters, today);
  const begin = () => {
    const garden = { name: "Hazel Clough", timeZone: "Europe/London", latitude: 54.2, longitude: -2.3 };
    taken(startGarden(on(addDays(all[0].plantedOn, -60)), { ...garden, altitudeM: 190 }));
  };
  const trials = all.map((place) => () => {
    const plan = planOf(place);
    const { trialId } = taken(createTrial(on(plan.sownOn as Day), plan));
    const isOver = place.winter < winters;
    const until = on(isOver ? addDays(place.plantedOn, 235) : today);
    const trial = trialView(until, trialId) as TrialView;
    record(until, trial, trial.today);
    if (isOver) judge(until, trial);
  });
  return [begin, ...trials];
}
