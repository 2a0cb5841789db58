import type { Day } from "@/lib/words/day";
import type { Observation } from "@/lib/words/observation";
import { firstFlowerStem } from "@/lib/words/trait";
import { inForce } from "./in-force";

/** Plants set out in one plot on one day. The planting holds the plot's plants; a later filling starts at none. */
export interface Cohort {
  plotId: string;
  /** Null where nobody said when the plot was planted. */
  setOutOn: Day | null;
  plants: number;
}

/** Plants lost and not come again. They were last known to stand on `standingOn` and were seen lost on `seenOn`. */
interface Loss {
  cause: string;
  plants: number;
  /** The last day before `seenOn` on which the stand was counted, or that of setting out; null when unknown. */
  standingOn: Day | null;
  seenOn: Day;
  /** True when no fact tells of it: a stand count came out below the ledger. */
  derived: boolean;
}

/** Plants taken out by a person: out of the reckoning, neither standing nor lost. */
interface Removal {
  reason: string;
  plants: number;
  seenOn: Day;
}

/** Plants that were noted as lost and came again from the crown. */
interface Regrowth {
  cause: string;
  plants: number;
  lostOn: Day;
  seenOn: Day;
}

/**
 * Figures that cannot all be right, and what would settle them. `count above`: more stand than the ledger knows of;
 * a recount, regrowth or an addition answers it. The others took away, or brought back, more than there was; a
 * correction answers them.
 */
export interface OpenQuestion {
  about: "count above" | "lost beyond" | "removed beyond" | "regrew beyond";
  plants: number;
  seenOn: Day;
  factId: string;
  settledBy: readonly ("recount" | "regrew" | "added" | "correction")[];
}

export interface CohortStand {
  setOutOn: Day | null;
  setOut: number;
  /** Put in later to complete the cohort: each is a plant at risk like those set out. */
  added: number;
  standing: number;
  lost: number;
  removed: number;
  losses: Loss[];
  removals: Removal[];
  regrowths: Regrowth[];
  /** Of those standing, how many looked dead on this day and were seen to come again only later. */
  lookedDead: number;
  /** Marked as doubtful at the last look; the ledger is not moved by it. */
  doubtful: number;
  /** Plants in open questions. */
  unsettled: number;
  questions: OpenQuestion[];
  /** Days on which the stand was counted. */
  countedOn: Day[];
  /** Days on which somebody could not look. */
  notSeenOn: Day[];
  /** The last day on which somebody saw the plants. */
  lastSeenOn: Day | null;
  firstFlowerStemOn: Day | null;
  endedOn: Day | null;
}

const blindKinds: readonly string[] = ["not-seen", "note", "withdrawn"];

function belongs(fact: Observation, cohort: Cohort): boolean {
  if (fact.plotId !== cohort.plotId) return false;
  return fact.cohortOn === null ? cohort.plants > 0 : fact.cohortOn === cohort.setOutOn;
}

function total(parts: readonly { plants: number }[]): number {
  return parts.reduce((sum, part) => sum + part.plants, 0);
}

/** The running state of the fold; see `foldCohort` for the rules. */
class Ledger {
  standing: number;
  readonly losses: Loss[] = [];
  readonly removals: Removal[] = [];
  readonly additions: { plants: number; seenOn: Day }[] = [];
  readonly regrowths: Regrowth[] = [];
  readonly beyond: OpenQuestion[] = [];
  readonly countedOn: Day[] = [];
  above: OpenQuestion | null = null;

  constructor(readonly cohort: Cohort) {
    this.standing = cohort.plants;
  }

  private lastKnownStanding(day: Day): Day | null {
    const { setOutOn } = this.cohort;
    return (
      this.countedOn.findLast((counted) => counted < day) ?? (setOutOn && setOutOn <= day ? setOutOn : null)
    );
  }

  private ask(fact: Observation, about: OpenQuestion["about"], plants: number): void {
    if (plants > 0)
      this.beyond.push({ about, plants, seenOn: fact.seenOn, factId: fact.id, settledBy: ["correction"] });
  }

  /** Splits plants off the latest losses that fit, as far as they go; returns what was split off. */
  private takeBack(wanted: number, fits: (loss: Loss) => boolean): Loss[] {
    const taken: Loss[] = [];
    let left = wanted;
    for (let index = this.losses.length - 1; index >= 0 && left > 0; index -= 1) {
      const loss = this.losses[index];
      if (!fits(loss)) continue;
      const plants = Math.min(left, loss.plants);
      taken.push({ ...loss, plants });
      left -= plants;
      if (plants === loss.plants) this.losses.splice(index, 1);
      else this.losses[index] = { ...loss, plants: loss.plants - plants };
    }
    return taken;
  }

  private lose(day: Day, cause: string, plants: number, derived: boolean): void {
    if (plants === 0) return;
    this.standing -= plants;
    this.losses.push({ cause, plants, standingOn: this.lastKnownStanding(day), seenOn: day, derived });
  }

  private add(fact: Observation): number {
    const plants = fact.amount ?? 0;
    if (plants > 0) this.additions.push({ plants, seenOn: fact.seenOn });
    this.standing += plants;
    return plants;
  }

  private regrow(fact: Observation, wanted: number): number {
    const back = this.takeBack(wanted, (loss) => fact.cause === null || loss.cause === fact.cause);
    for (const { cause, plants, seenOn } of back)
      this.regrowths.push({ cause, plants, lostOn: seenOn, seenOn: fact.seenOn });
    this.standing += total(back);
    return total(back);
  }

  private loseNoted(fact: Observation): number {
    const plants = fact.amount ?? 0;
    const cause = fact.cause ?? "unknown";
    const taken = Math.min(plants, this.standing);
    this.lose(fact.seenOn, cause, taken, false);
    // What no plant is left for must be among those that a count has already found gone, cause unknown till now.
    const explained = this.takeBack(plants - taken, (loss) => loss.derived);
    for (const loss of explained.reverse()) this.losses.push({ ...loss, cause, derived: false });
    this.ask(fact, "lost beyond", plants - taken - total(explained));
    return taken;
  }

  private remove(fact: Observation): number {
    const plants = fact.amount ?? 0;
    const taken = Math.min(plants, this.standing);
    if (taken > 0) this.removals.push({ reason: fact.cause ?? "", plants: taken, seenOn: fact.seenOn });
    this.standing -= taken;
    this.ask(fact, "removed beyond", plants - taken);
    return taken;
  }

  private count(fact: Observation, lowest: number, highest: number): void {
    const counted = fact.amount ?? 0;
    this.above = null;
    if (counted < lowest) this.lose(fact.seenOn, "unknown", lowest - counted, true);
    if (counted > highest)
      this.above = {
        about: "count above",
        plants: counted - highest,
        seenOn: fact.seenOn,
        factId: fact.id,
        settledBy: ["recount", "regrew", "added"],
      };
    this.countedOn.push(fact.seenOn);
  }

  /** Folds one day's facts, given in fold order. */
  foldDay(facts: readonly Observation[]): void {
    const of = (kind: Observation["kind"]) => facts.filter((fact) => fact.kind === kind);
    const before = this.standing;
    const downs = new Map<Observation, number>();
    let ups = 0;
    for (const fact of of("added")) ups += this.add(fact);
    const early = of("regrew").map((fact) => ({ fact, back: this.regrow(fact, fact.amount ?? 0) }));
    for (const fact of of("loss")) downs.set(fact, this.loseNoted(fact));
    for (const { fact, back } of early) {
      const wanted = (fact.amount ?? 0) - back;
      const late = this.regrow(fact, wanted);
      this.ask(fact, "regrew beyond", wanted - late);
      ups += back + late;
    }
    for (const fact of of("removed")) downs.set(fact, this.remove(fact));
    if (this.above && ups > 0) {
      const plants = this.above.plants - ups;
      this.above = plants > 0 ? { ...this.above, plants } : null;
    }

    const count = of("stand").at(-1);
    if (!count) return;
    let allDowns = 0;
    let surelyBefore = 0;
    for (const [fact, plants] of downs) {
      allDowns += plants;
      const sameDevice = fact.deviceId === count.deviceId;
      if (sameDevice && fact.deviceSequence < count.deviceSequence) surelyBefore += plants;
    }
    this.count(count, before - allDowns, before + ups - surelyBefore);
  }
}

function byDay(facts: readonly Observation[]): Observation[][] {
  const days: Observation[][] = [];
  for (const fact of facts) {
    if (days.at(-1)?.[0].seenOn === fact.seenOn) days.at(-1)?.push(fact);
    else days.push([fact]);
  }
  return days;
}

/**
 * The stand ledger of one cohort: standing = set out + added − lost − removed on every day, never below zero.
 *
 * - A *stand* count below the ledger derives the difference as lost to *unknown*. That is no fact: a loss that arrives
 *   late, dated to that day or earlier, takes its place, and so does a later one that no standing plant is left for.
 * - A count above the ledger leaves the ledger as it is and asks a question, until a recount, *regrew* or *added*
 *   answers it; a later count is a recount.
 * - What one day's facts say is taken together, since the order within a day is seldom known (two phones, a sheet
 *   copied in the evening): additions, regrowth, losses, removals, then the day's last count. A count is below the ledger
 *   only if that day's losses and removals, noted before or after it, do not explain it. It is above the ledger even
 *   so when the same device had noted the losses before it counted.
 * - *regrew* sets the latest losses right, of its own cause if it names one: those plants had stood all along, and count
 *   as standing on every day, also before they were seen to come again. Both dates stay in `regrowths`, and
 *   `lookedDead` says how many this concerns on a day. For what the record said on that day, give only facts seen by
 *   then.
 * - Nothing takes away more than there is: the excess is an open question. *doubtful* moves nothing. After *ended*
 *   nothing moves. Facts dated before setting out fold as if dated to it; their day stays as noted.
 *
 * @param facts in any order, repeated or not, of any plot; at least this cohort's and those tied to them by correction
 * @param until the day to tell of; null tells of the whole record
 */
export function foldCohort(
  cohort: Cohort,
  facts: readonly Observation[],
  until: Day | null = null,
): CohortStand {
  const own = inForce(facts).filter((fact) => belongs(fact, cohort));
  const endedOn = own.find((fact) => fact.kind === "ended")?.seenOn ?? null;
  const ledger = new Ledger(cohort);
  for (const day of byDay(own)) if (endedOn === null || day[0].seenOn <= endedOn) ledger.foldDay(day);

  const { setOutOn } = cohort;
  const isThere = until === null || setOutOn === null || setOutOn <= until;
  const seen = (on: Day) => isThere && (until === null || on <= until);
  const told = own.filter((fact) => seen(fact.seenOn));
  const losses = ledger.losses.filter((loss) => seen(loss.seenOn));
  const removals = ledger.removals.filter((removal) => seen(removal.seenOn));
  const regrowths = ledger.regrowths.filter((regrowth) => seen(regrowth.lostOn));
  const questions = [...ledger.beyond, ...(ledger.above ? [ledger.above] : [])].filter((question) =>
    seen(question.seenOn),
  );
  const setOut = isThere ? cohort.plants : 0;
  const added = total(ledger.additions.filter((addition) => seen(addition.seenOn)));
  const lost = total(losses);
  const removed = total(removals);
  const standing = setOut + added - lost - removed;
  const flowering = (fact: Observation) =>
    fact.kind === "count" && fact.trait === firstFlowerStem && (fact.amount ?? 0) > 0;
  const looked = (fact: Observation) =>
    !blindKinds.includes(fact.kind) && !(fact.kind === "harvest" && fact.amount === null);
  return {
    setOutOn,
    setOut,
    added,
    standing,
    lost,
    removed,
    losses,
    removals,
    regrowths,
    lookedDead: total(regrowths.filter((regrowth) => !seen(regrowth.seenOn))),
    doubtful: Math.min(standing, told.findLast((fact) => fact.kind === "doubtful")?.amount ?? 0),
    unsettled: total(questions),
    questions,
    countedOn: ledger.countedOn.filter(seen),
    notSeenOn: [...new Set(told.filter((fact) => fact.kind === "not-seen").map((fact) => fact.seenOn))],
    lastSeenOn: told.findLast(looked)?.seenOn ?? null,
    firstFlowerStemOn: told.find(flowering)?.seenOn ?? null,
    endedOn: endedOn !== null && seen(endedOn) ? endedOn : null,
  };
}
