import { sayPackCause } from "@/app/_field/say-fact";
import type { BedView } from "@/lib/sync/device/bed-view";
import type { PlotView } from "@/lib/sync/device/plot-view";
import type { FieldBed, FieldPack } from "@/lib/sync/field-pack";
import { type BedFact, sayBedFact } from "@/lib/words/bed-fact";
import type { Observation } from "@/lib/words/observation";
import { sayPlants } from "@/lib/words/say-observation";

function plantsOf(facts: Observation[]): number {
  return facts.reduce((sum, fact) => sum + (fact.amount ?? 0), 0);
}

function list(parts: string[]): string {
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}`;
}

/** Whether a round told anything of a bed but that it was looked over. */
export type BedChange = "left out" | "nothing to tell" | { sentence: string };

/** What a round changed in a bed, in one sentence: its plants, then the bed as a whole. */
export function sayBedChange(
  pack: FieldPack,
  bed: FieldBed,
  views: Map<string, PlotView>,
  bedView: BedView | undefined,
  walkaboutId: string,
): BedChange {
  const ofRound = (bedView?.inForce ?? []).filter((fact) => fact.walkaboutId === walkaboutId);
  // Of the cover and of the lowest only the last word counts: what was opened on the way and shut again is shut.
  const outdone = (fact: BedFact) =>
    (fact.kind === "cover" || fact.kind === "lowest") &&
    fact !== ofRound.findLast((other) => other.kind === fact.kind);
  const telling = ofRound.filter((fact) => fact.kind !== "looked" && !outdone(fact));
  const whole = list([...new Set(telling.map(sayBedFact))]);
  const plants = sayPlotsChange(pack, bed, views, walkaboutId);
  if (plants === null && whole === "") return ofRound.length > 0 ? "nothing to tell" : "left out";
  if (plants === null) return { sentence: `${whole}.` };
  return { sentence: whole === "" ? plants : `${plants} The bed: ${whole}.` };
}

function sayPlotsChange(
  pack: FieldPack,
  bed: FieldBed,
  views: Map<string, PlotView>,
  walkaboutId: string,
): string | null {
  const inBed = bed.plots.map((plot) => views.get(plot.id)).filter((view) => view !== undefined);
  const said = inBed.flatMap((view) => view.inForce.filter((fact) => fact.walkaboutId === walkaboutId));
  const of = (kind: Observation["kind"]) => said.filter((fact) => fact.kind === kind);
  const unseen = new Set(of("not-seen").map((fact) => fact.plotId));
  const looked = new Set(said.filter((fact) => fact.kind !== "not-seen").map((fact) => fact.plotId));
  if (looked.size === 0) return unseen.size > 0 ? "could not look." : null;

  // Only plots of which the round said something are counted: what nobody looked at is not said to stand.
  const counted = inBed.filter((view) => looked.has(view.plot.id) && view.endedOn === null);
  const leftOut = inBed.filter(
    ({ plot, endedOn }) => endedOn === null && !looked.has(plot.id) && !unseen.has(plot.id),
  ).length;
  const standing = counted.reduce((sum, view) => sum + view.standing, 0);
  const places = counted.reduce((sum, view) => sum + view.marks.length, 0);
  const whole = unseen.size === 0 && leftOut === 0;
  const parts = [`${standing} of ${places} stand${whole ? "" : " where looked"}`];
  const causes = [...new Set(of("loss").map((fact) => fact.cause ?? "unknown"))];
  if (causes.length > 0) {
    const toWhat = causes.map((cause) => {
      const plants = plantsOf(of("loss").filter((fact) => fact.cause === cause));
      return causes.length === 1 ? sayPackCause(pack, cause) : `${plants} ${sayPackCause(pack, cause)}`;
    });
    parts.push(`${sayPlants(plantsOf(of("loss")))} gone (${list(toWhat)})`);
  }
  for (const [kind, words] of [
    ["removed", "taken out"],
    ["regrew", "came again"],
    ["added", "set in gaps"],
  ] as const)
    if (of(kind).length > 0) parts.push(`${sayPlants(plantsOf(of(kind)))} ${words}`);
  const doubtful = counted.reduce((sum, view) => sum + view.doubtful, 0);
  if (doubtful > 0) parts.push(`${doubtful} doubtful`);
  if (parts.length === 1) parts.push("no plant lost since the last look");
  if (unseen.size > 0) parts.push(`could not look at ${unseen.size} of ${inBed.length} plots`);
  if (leftOut > 0) parts.push(`${leftOut} of ${inBed.length} plots left out`);
  return `${parts.join(", ")}.`;
}
