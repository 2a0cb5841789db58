import { type Day, sayDay } from "@/lib/words/day";
import { caution, listed } from "./caution-order";
import type { Caution, Finding, Survival } from "./finding";
import { assessedOn, type ReadPlot } from "./read-plots";
import type { RecordPlot, TrialRecord } from "./trial-record";
import type { TrialPicks } from "./yield-plots";

interface Told {
  record: TrialRecord;
  read: ReadPlot[];
  looks: Day[];
  at: Day | null;
  survival: Finding<Survival> | null;
  picks: TrialPicks;
}

/** What to beware of in the trial as a whole. */
export function trialCautions({ record, read, looks, at, survival, picks }: Told): Caution[] {
  return [
    ...aboutRule(record),
    ...aboutConfounding(record),
    ...aboutAmendments(read),
    ...aboutTreatments(record),
    ...aboutDates(record, looks, at),
    ...aboutGaps(record, survival, picks),
  ];
}

function aboutRule(record: TrialRecord): Caution[] {
  if (record.rule === null)
    return [caution("rule-missing", "No rule was set, so the figures propose nothing.")];
  if (record.ruleChangedAfterData)
    return [
      caution(
        "rule-changed",
        "The rule was set or changed after the first observation: it can no longer guard against choosing it to fit.",
      ),
    ];
  return [];
}

/** Treatments that differ between blocks but never within one, so that nobody can tell which of the two did it. */
function aboutConfounding(record: TrialRecord): Caution[] {
  if (record.design === "split-plot") return [];
  const treatments: [string, (plot: RecordPlot) => string | null][] = [
    ["Cover", (plot) => plot.cover],
    ["Sowing date", (plot) => plot.sownOn],
  ];
  return treatments.flatMap(([name, of]) => {
    const values = new Set(record.plots.map(of));
    if (values.size < 2) return [];
    const groupsOf = (key: (plot: RecordPlot) => string | null) => {
      const groups = new Map<string | null, Set<string | null>>();
      for (const plot of record.plots)
        groups.set(key(plot), (groups.get(key(plot)) ?? new Set()).add(of(plot)));
      return [...groups.values()];
    };
    const withBlocks = record.plots.some((plot) => plot.block !== null);
    if (withBlocks && groupsOf((plot) => plot.block).every((group) => group.size === 1))
      return [
        caution(
          "confounded",
          `${name} differs between blocks and never within one: what it did cannot be told from what the block did.`,
        ),
      ];
    if (groupsOf((plot) => plot.variety).every((group) => group.size === 1))
      return [
        caution(
          "confounded",
          `${name} differs between varieties and never within one: what it did cannot be told from the variety.`,
        ),
      ];
    return [
      caution(
        "treated-otherwise",
        `${name} was not the same for all plots, and this analysis does not allow for it.`,
      ),
    ];
  });
}

function aboutAmendments(read: ReadPlot[]): Caution[] {
  const out = read.filter((one) => one.outFrom !== null);
  return out.map((one) =>
    caution(
      "treated-otherwise",
      `${one.plot.code} left the trial on ${sayDay(one.outFrom as Day)}${one.outReason ? `: ${one.outReason.replace(/\.$/, "")}` : ""}.`,
    ),
  );
}

/** What was done to part of the trial only: it helped or hurt some plots and not others. */
function aboutTreatments({ treatedInPart = [] }: TrialRecord): Caution[] {
  if (treatedInPart.length === 0) return [];
  const done = treatedInPart.map(({ what, place, on }) => `${what} (${place}, ${sayDay(on)})`);
  return [
    caution(
      "treated-otherwise",
      `Done to part of the trial only: ${listed(done)}. What it did cannot be told from what the plots did there.`,
    ),
  ];
}

function aboutDates(record: TrialRecord, looks: Day[], at: Day | null): Caution[] {
  const due = assessedOn(record, record.decidingAssessment, looks);
  if (due === null || at === null || due <= at) return [];
  return [
    caution(
      "to-come",
      `As of ${sayDay(at)}. The assessment that decides, “${record.decidingAssessment}”, is still to come on ${sayDay(due)}.`,
    ),
  ];
}

function aboutGaps(record: TrialRecord, survival: Finding<Survival> | null, picks: TrialPicks): Caution[] {
  const unsaid = record.plots.filter((plot) => plot.plants === null).map((plot) => plot.code);
  const withoutArea = record.plots.filter((plot) => plot.areaM2 === null).length;
  return [
    ...(unsaid.length > 0
      ? [
          caution(
            "plants-unknown",
            `How many plants were set out is not said for ${unsaid.length === record.plots.length ? "any plot" : listed(unsaid)}: neither survival nor yield per plant can be told there.`,
          ),
        ]
      : []),
    ...(withoutArea > 0 && withoutArea < record.plots.length && picks.days.length > 0
      ? [caution("area-unknown", "The area is not said for every plot.")]
      : []),
    ...(survival === null && unsaid.length < record.plots.length
      ? [caution("not-estimable", "Nobody has told how many plants stand, so survival cannot be given.")]
      : []),
  ];
}
