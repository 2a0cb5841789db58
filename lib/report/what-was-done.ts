import type { TrialFindings } from "@/lib/analysis/finding";
import { type Day, sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import { type Design, designWords, type EntryRole } from "@/lib/words/trial";

/** What the plan and layout of a trial must say of themselves to be reported. */
export interface DoneTrial {
  crop: string;
  purpose: string;
  design: Design;
  seed: number;
  blocks: number;
  plantsPerPlot: number;
  betweenPlantsMm: number;
  betweenRowsMm: number;
  sownOn: Day;
  plantedOn: Day;
  beds: { name: string }[];
  levels: { words: string }[];
  covers: { name: string; kind: string; fromOn: Day; untilOn: Day | null }[];
  entries: { variety: string; role: EntryRole }[];
  plots: unknown[];
  pickingRule: string;
}

const numbers = ["No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten"];
const roles: Record<EntryRole, string> = {
  entry: "",
  check: " (the check)",
  "tender-check": " (the tender check)",
};

function listed(names: string[]): string {
  if (names.length <= 1) return names.join("");
  return `${names.slice(0, -1).join(", ")} and ${names[names.length - 1]}`;
}

/** What was done, as a few sentences: what was compared, how it was laid out, when, under what, how it was looked at. */
export function whatWasDone(trial: DoneTrial, findings: TrialFindings): string[] {
  const count = trial.entries.length;
  const names = listed(trial.entries.map(({ variety, role }) => `${variety}${roles[role]}`));
  const purpose = trial.purpose ? ` as ${trial.purpose}` : "";
  const blocks = trial.blocks > 1 ? `${trial.blocks} blocks, ` : "";
  return [
    `${numbers[count] ?? count} ${count === 1 ? "variety" : "varieties"} of ${trial.crop}${purpose}: ${names}.`,
    `Laid out ${designWords[trial.design]}: ${blocks}${trial.plots.length} plots of ${trial.plantsPerPlot} ${trial.plantsPerPlot === 1 ? "plant" : "plants"}, dealt to their places by lot (seed ${trial.seed}), in ${listed(trial.beds.map((bed) => bed.name))}; plants ${sayLengthMm(trial.betweenPlantsMm)} apart in rows ${sayLengthMm(trial.betweenRowsMm)} apart.`,
    ...(trial.levels.length > 0
      ? [`Whole main plots were dealt ${listed(trial.levels.map((level) => level.words))}.`]
      : []),
    `Sown ${sayDay(trial.sownOn, true)}, planted out ${sayDay(trial.plantedOn, true)}. ${coverWords(trial)}`,
    lookedAt(findings),
    ...(trial.pickingRule ? [`The picking rule: ${trial.pickingRule.replace(/\.?$/, ".")}`] : []),
  ];
}

function coverWords({ covers, levels }: DoneTrial): string {
  if (covers.length === 0)
    return levels.length > 0 ? "Nothing else stood over it." : "Nothing stood over it.";
  const said = covers.map(({ name, kind, fromOn, untilOn }) => {
    const until = untilOn === null ? "on" : `to ${sayDay(untilOn, true)}`;
    return `${name} (${kind}) from ${sayDay(fromOn, true)} ${until}`;
  });
  return `Over it: ${said.join("; ")}.`;
}

function lookedAt({ standing, yield: harvest, at }: TrialFindings): string {
  const days = [
    ...new Set((standing?.value ?? []).flatMap((curve) => curve.steps.map((step) => step.day))),
  ].sort();
  const picks = harvest?.value.picks.days ?? [];
  const looked =
    days.length === 0
      ? "It has not been looked at yet."
      : `Losses were seen or plants counted on ${days.length} ${days.length === 1 ? "day" : "days"} from ${sayDay(days[0], true)} to ${sayDay(days[days.length - 1], true)}.`;
  const picked =
    picks.length === 0
      ? ""
      : ` Every plot was picked on ${picks.length} ${picks.length === 1 ? "day" : "days"}, the last ${sayDay(picks[picks.length - 1], true)}.`;
  return `${looked}${picked}${at === null ? "" : ` The figures are those of ${sayDay(at, true)}.`}`;
}
