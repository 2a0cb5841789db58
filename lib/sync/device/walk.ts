import type { FieldBed } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import type { Walk, WalkAct } from "./device-store";

/** A round that begins at a bed. */
export function startWalk(walkaboutId: string, startedOn: Day, bedId: string): Walk {
  return { walkaboutId, startedOn, bedId, closed: {}, acts: [], ended: false };
}

/** The next bed in walking order that this round has not closed, after the one on the screen; null when all are. */
export function nextOpenBed(beds: FieldBed[], walk: Walk): FieldBed | null {
  const here = beds.findIndex((bed) => bed.id === walk.bedId);
  const inTurn = [...beds.slice(here + 1), ...beds.slice(0, here + 1)];
  return inTurn.find((bed) => walk.closed[bed.id] === undefined) ?? null;
}

/** The round after one more act; an act that closes its bed goes on to the next. */
export function afterAct(
  walk: Walk,
  act: WalkAct,
  how: "looked" | "not-seen" | null,
  beds: FieldBed[],
): Walk {
  const acts = [...walk.acts, act];
  if (how === null) return { ...walk, acts };
  const closed = { ...walk.closed, [act.bedId]: how };
  const next = nextOpenBed(beds, { ...walk, closed });
  return { ...walk, acts, closed, bedId: next?.id ?? walk.bedId };
}

/** The round as it was before its last act, back at the bed where that was done; null when there is none. */
export function beforeLastAct(walk: Walk): { walk: Walk; act: WalkAct } | null {
  const act = walk.acts.at(-1);
  if (!act) return null;
  const closed = { ...walk.closed };
  if (act.closed) delete closed[act.bedId];
  return { act, walk: { ...walk, acts: walk.acts.slice(0, -1), closed, bedId: act.bedId, ended: false } };
}

/** The round without the facts that were taken back one by one: an act with none left can no longer be undone. */
export function withoutFacts(walk: Walk, factIds: string[]): Walk {
  const acts = walk.acts
    .map((act) => ({ ...act, factIds: act.factIds.filter((id) => !factIds.includes(id)) }))
    .filter((act) => act.factIds.length > 0 || act.closed);
  return { ...walk, acts };
}

/** Whether every bed has been closed on this round. */
export function allClosed(beds: FieldBed[], walk: Walk): boolean {
  return beds.every((bed) => walk.closed[bed.id] !== undefined);
}
