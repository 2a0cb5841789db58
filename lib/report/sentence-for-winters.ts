import type {
  ContrastOverWinters,
  ManyWinters,
  PooledAt,
  Proof,
  WinterLine,
  WintersKind,
} from "@/lib/analysis/many-winters";
import type { VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import { sayCause } from "@/lib/words/cause";
import { type Day, daysBetween, sayDay } from "@/lib/words/day";
import { inAHundred, sayDecimal, sayPercent } from "@/lib/words/say-number";
import { sentenceForDifference } from "./sentence-for-difference";
import { sentenceForVariety } from "./sentence-for-variety";
import { saySureness, sayTimesInAHundred } from "./sureness";

const smallNumbers = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

function listed(names: readonly string[]): string {
  if (names.length <= 1) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

/** A count of winters, or of seasons that were none: `two winters`. */
export function sayWinters(count: number, { isOverWinter }: Pick<WintersKind, "isOverWinter">): string {
  const noun = isOverWinter ? "winter" : "season";
  return `${smallNumbers[count] ?? count} ${noun}${count === 1 ? "" : "s"}`;
}

/** What stood over it: `under insect netting and low tunnel`, `in the open`. */
export function sayCoverKinds(kinds: readonly string[]): string {
  return kinds.length === 0 ? "in the open" : `under ${listed(kinds)}`;
}

/** Things that were compared, each of them meant: `both in the open and under fleece`. */
function sayCompared(words: readonly string[]): string {
  return words.length === 2 ? `both ${listed(words)}` : listed(words);
}

/**
 * What a verdict was for: *as base of a winter mix, under low tunnel, sown about Mon 18 Aug*; where covers were compared,
 * *tried both in the open and under fleece*.
 */
export function sayUse(use: {
  covers: readonly (readonly string[])[];
  sownOn: readonly Day[];
  purpose: string;
}): string {
  const purpose = use.purpose ? `as ${use.purpose}` : "for any purpose";
  const under = use.covers.map(sayCoverKinds);
  const tried = under.length > 1 ? `tried ${sayCompared(under)}` : listed(under);
  return `${purpose}, ${tried}, sown about ${listed(use.sownOn.map((day) => sayDay(day)))}`;
}

/** What the winters of one kind have in common: *Through the winter under low tunnel, judged at regrowth*. */
export function sayWintersKind({ coverKinds, isOverWinter, assessment }: WintersKind): string {
  const when = isOverWinter ? "Through the winter" : "Not through a winter";
  return `${when}, ${sayCoverKinds(coverKinds)}, judged at “${assessment}”`;
}

const states: Record<WinterLine["state"], string> = {
  counts: "",
  "so far": " So far only: what decides is still to come, so it does not count yet.",
  "cut short": " Closed before the assessment that decides: not counted.",
  "look-see": " A look-see bed: shown, not counted.",
  "no plants": "",
  "not planted": "",
};

/** What one winter said of a variety: *2025/26: 18 of 24 stood on Sat 28 Mar 2026; somewhere between 55 and 88 …* */
export function sentenceForWinter(line: WinterLine): string {
  const { trial, share, state, asOf } = line;
  if (state === "not planted")
    return `${trial.season}: nothing has been recorded yet (planting out: ${sayDay(trial.plantedOn, true)}).`;
  if (!share || state === "no plants") return `${trial.season}: no plants to judge by.`;
  const day = asOf ? ` as of ${sayDay(asOf, true)}` : "";
  // The name stands over the page already: the season takes its place.
  const told = sentenceForVariety({ ...share, variety: `${trial.season}${day}` });
  return `${told}${states[state]}`;
}

/** Whether a winter tested hardiness, in a few words; nothing to say of a season that was no winter. */
export function sayTested(line: Pick<WinterLine, "tested" | "state" | "trial">): string {
  if (!line.trial.isOverWinter || line.state === "not planted" || line.state === "no plants") return "–";
  if (line.tested === null) return "not known";
  if (line.tested) return "yes";
  return line.state === "counts" ? "no: the tender check stood" : "not so far";
}

/** How it stood against the check in one winter; null for the check itself. */
export function sentenceForWinterDifference(line: WinterLine): string | null {
  const { difference, trial } = line;
  if (!difference || difference.estimate === null) return null;
  return `${trial.season}: ${sentenceForDifference({ ...difference, lowFamily: null, highFamily: null, p: null, pFamily: null })}`;
}

/** In how many of the winters that count it clearly stood better or worse than the check. */
export function sentenceForDifferences({ lines, kind }: ManyWinters): string | null {
  const told = lines.filter((line) => line.state === "counts" && line.difference?.low != null);
  if (told.length < 2) return null;
  const better = told.filter(({ difference }) => (difference?.low ?? 0) > 0).length;
  const worse = told.filter(({ difference }) => (difference?.high ?? 0) < 0).length;
  const unclear = told.length - better - worse;
  const reference = listed([...new Set(told.map(({ difference }) => difference?.reference ?? ""))]);
  const noun = kind.isOverWinter ? "winters" : "seasons";
  const parts = [
    better > 0 ? `clearly better in ${smallNumbers[better] ?? better}` : null,
    worse > 0 ? `clearly worse in ${smallNumbers[worse] ?? worse}` : null,
    unclear > 0 ? `no clear difference in ${smallNumbers[unclear] ?? unclear}` : null,
  ].filter((part) => part !== null);
  return `Against ${reference}, of ${smallNumbers[told.length] ?? told.length} ${noun}: ${listed(parts)}.`;
}

/** What a typical winter is worth: *Over two winters about 41 in a hundred stand, somewhere between 28 and 56.* */
export function sentenceForTypical({ survival, winters, kind }: ManyWinters): string | null {
  if (!survival) return null;
  if (winters.length === 1) {
    const noun = kind.isOverWinter ? "winter" : "season";
    return `${winters[0].season} is the only ${noun} that counts so far.`;
  }
  const { typical } = survival.pooled;
  return `Over ${sayWinters(winters.length, kind)} together, about ${inAHundred(typical.estimate)} in a hundred stand in a typical ${kind.isOverWinter ? "winter" : "season"}, somewhere between ${inAHundred(typical.low)} and ${inAHundred(typical.high)}.`;
}

/** What another winter may bring. */
export function sentenceForAnother({ survival, winters, kind }: ManyWinters): string | null {
  if (!survival) return null;
  const { another } = survival.pooled;
  const noun = kind.isOverWinter ? "winter" : "season";
  const assumed =
    winters.length === 1 ? ` How far ${noun}s lie apart is assumed, since there has been one.` : "";
  return `In another ${noun} like ${winters.length === 1 ? "this" : "these"} anything from ${inAHundred(another.low)} to ${inAHundred(another.high)} in a hundred may stand.${assumed}`;
}

/** How likely another winter comes to the floor: *In another winter the floor of 60 in a hundred is probably met (68 times in 100).* */
export function sentenceForAnotherFloor(
  floor: number,
  probability: number,
  winters: number,
  kind: Pick<WintersKind, "isOverWinter">,
): string {
  const noun = kind.isOverWinter ? "winter" : "season";
  return `In another ${noun} the survival floor of ${inAHundred(floor)} in a hundred ${saySureness(probability)}, going by ${sayWinters(winters, kind)}.`;
}

/** How far the answer hangs on the prior: the same with the other scale. */
export function sentenceForOtherScale({ scale, typical, another, atLeastFloor }: PooledAt): string {
  const floor = atLeastFloor ? `, the floor met ${sayTimesInAHundred(atLeastFloor.another)} in another` : "";
  return `With a prior scale of ${scale} for the spread instead: ${sayPercent(typical.estimate)}, ${inAHundred(typical.low)} to ${inAHundred(typical.high)} in the middle; ${inAHundred(another.low)} to ${inAHundred(another.high)} in another${floor}.`;
}

/** What the winters that tested say alone, where others did not test. */
export function sentenceForTestedOnly({ typical, another }: PooledAt): string {
  return `By the winters that tested alone: ${sayPercent(typical.estimate)}, ${inAHundred(typical.low)} to ${inAHundred(typical.high)} in the middle; ${inAHundred(another.low)} to ${inAHundred(another.high)} in another.`;
}

/** The yield against the check over winters, as a multiple of it. */
export function sentenceForYieldOverWinters(
  variety: string,
  contrast: ContrastOverWinters,
  kind: WintersKind,
): string {
  const { pooled, winters, reference } = contrast;
  const times = (log: number) => sayDecimal(Math.exp(log), 2);
  const noun = kind.isOverWinter ? "winter" : "season";
  if (winters.length === 1) {
    const [{ season }] = winters;
    return `${season} is the only ${noun} with a yield to set beside ${reference}; in another, ${variety} may give anything from ${times(pooled.another.low)} to ${times(pooled.another.high)} times as much, the spread between ${noun}s being assumed.`;
  }
  const { estimate, low, high } = pooled.mean;
  const clear =
    low > 0
      ? `${variety} clearly out-yielded ${reference} over ${sayWinters(winters.length, kind)}`
      : high < 0
        ? `${variety} clearly yielded less than ${reference} over ${sayWinters(winters.length, kind)}`
        : `No clear difference in yield between ${variety} and ${reference} over ${sayWinters(winters.length, kind)}`;
  return `${clear}: ${times(estimate)} times as much, somewhere between ${times(low)} and ${times(high)}; in another ${noun} anything from ${times(pooled.another.low)} to ${times(pooled.another.high)} times.`;
}

/** The working of a contrast over winters, in sentences. */
export function contrastWorking(contrast: ContrastOverWinters): string[] {
  const { restricted, pooled, scale, otherScale, of, reference, without } = contrast;
  const back = (log: number) => sayDecimal(Math.exp(log), 2);
  const what = of === "yield" ? "The yield" : "The odds of standing";
  return [
    `${what} as a multiple of ${reference}’s: ${back(pooled.mean.estimate)}, ${back(pooled.mean.low)} to ${back(pooled.mean.high)} (normal–normal on logs, flat mean, half-normal prior of scale ${scale} on the spread; posterior mean spread ${sayDecimal(pooled.spread, 2)}). With scale ${otherScale.scale}: ${back(otherScale.pooled.mean.low)} to ${back(otherScale.pooled.mean.high)}.`,
    restricted.limits && restricted.heterogeneity && restricted.iSquared !== null
      ? `By restricted maximum likelihood with Hartung–Knapp limits: ${back(restricted.mean)}, ${back(restricted.limits.low)} to ${back(restricted.limits.high)}; Q = ${sayDecimal(restricted.heterogeneity.q, 2)} on ${restricted.heterogeneity.df}, I² = ${sayPercent(restricted.iSquared)}, τ² = ${sayDecimal(restricted.spreadVariance ?? 0, 3)}.${restricted.winters < 5 ? " With fewer than five winters these limits are of little use and are shown for the working only." : ""}`
      : "One winter: restricted maximum likelihood has no spread to judge.",
    ...(without.length > 0
      ? [
          `${listed(without)} cannot be put on this scale (${of === "yield" ? "a plot of the pair yielded nothing, or limits could not be had" : "all or none of one of the two stood"}).`,
        ]
      : []),
  ];
}

/** What took it over all trials: *Lost 31 of 96 plants set out: cold 14, slugs 9, birds 8.* */
export function sentenceForLossesOver(trials: readonly VarietyInTrial[]): string | null {
  const plants = trials.reduce((sum, one) => sum + one.plants, 0);
  if (plants === 0) return null;
  const byCause = new Map<string, number>();
  for (const { losses } of trials)
    for (const loss of losses) byCause.set(loss.cause, (byCause.get(loss.cause) ?? 0) + loss.plants);
  const lost = [...byCause.values()].reduce((sum, count) => sum + count, 0);
  if (lost === 0) return `None of ${plants} plants set out was lost.`;
  const causes = [...byCause]
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
    .map(([cause, count]) => `${sayCause(cause)} ${count}`)
    .join(", ");
  return `Lost ${lost} of ${plants} plants set out: ${causes}.`;
}

/** When one trial's plots ran up to flower. */
export function sentenceForStems({ trial, bolting }: VarietyInTrial): string | null {
  if (!bolting) return null;
  if (bolting.firstOn === null)
    return `${trial.season}: no flower stem was counted in ${bolting.plots === 1 ? "its plot" : `its ${bolting.plots} plots`}.`;
  const days = daysBetween(trial.plantedOn, bolting.firstOn);
  const early = bolting.boltedEarly > 0 ? `; ${bolting.boltedEarly} of them before the bed was wanted` : "";
  return `${trial.season}: first flower stem on ${sayDay(bolting.firstOn, true)}, ${days} days after planting out, in ${bolting.plotsBolted} of ${bolting.plots} plots${early}.`;
}

/** What the bed proved, in a few words beside the packet's claim: *41 %, 28 to 56, two winters*. */
export function sayProof({ share, winters, kind, isUnderWay, isLookSee, isUntested }: Proof): string {
  if (!share && isUnderWay) return "in its first trial, nothing decided yet";
  if (!share) return isLookSee ? "a look-see bed only, which proves nothing yet" : "nothing proved yet";
  const untested = isUntested && kind.isOverWinter ? ` that ${winters === 1 ? "was" : "were"} no test` : "";
  return `${sayPercent(share.estimate)}, ${inAHundred(share.low)} to ${inAHundred(share.high)}, ${sayWinters(winters, kind)}${untested}`;
}

/** Packet claim beside proof, as one line: *Says: “Stands any winter”. Here: 41 %, 28 to 56, two winters, in the open.* */
export function claimBesideProof(packetClaim: string | null, found: readonly Proof[]): string {
  const says = packetClaim ? `Says: “${packetClaim.replace(/\.$/, "")}”.` : "The packet claims nothing.";
  if (found.length === 0) return `${says} Here: no trial yet.`;
  const proved = found
    .filter((one) => one.share)
    .map((one) => `${sayProof(one)}, ${sayCoverKinds(one.kind.coverKinds)}`);
  return `${says} Here: ${proved.length > 0 ? proved.join("; ") : sayProof(found[0])}.`;
}
