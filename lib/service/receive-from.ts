import * as z from "zod/mini";
import type { Database } from "@/db/open";
import { findFactKind } from "@/db/queries/find-fact-kind";
import { batchSchema } from "@/lib/sync/batch-schema";
import type { BatchReply, FactReply } from "@/lib/sync/contract";
import { type Outcome, success } from "@/lib/words/fault";
import type { Asked } from "./asked-by";
import type { House } from "./house";
import { readForm } from "./read-form";
import { receiveObservations } from "./receive-observations";

const sortOf = z.object({
  id: z.string().check(z.maxLength(80)),
  kind: z.string(),
  cause: z.optional(z.nullable(z.string())),
  replaces: z.optional(z.nullable(z.string())),
});
type Sort = z.infer<typeof sortOf>;

const why = "this phone is signed in only to weigh; pair it for somebody who may do everything";

/** A pick: what was harvested, and the plants that were cut with it. */
function isPick({ kind, cause }: { kind: string; cause?: string | null }): boolean {
  return kind === "harvest" || (kind === "removed" && cause === "cut");
}

/** Whether a fact is a pick, or takes back or corrects one. */
function isOfWeighing(database: Database, sort: Sort, sent: ReadonlyMap<string, Sort>): boolean {
  const { kind, replaces } = sort;
  if (!isPick(sort) && kind !== "withdrawn") return false;
  if (!replaces) return isPick(sort);
  const replaced = findFactKind(database, replaces.toLowerCase()) ?? sent.get(replaces.toLowerCase());
  return replaced != null && isPick(replaced);
}

/**
 * Takes in a batch from somebody: see `receiveObservations`. From whoever only weighs, picks are taken and whatever takes
 * them back; any other fact is left for later and stays on the phone, since the same phone may be let do more one day.
 */
export function receiveFrom(house: House, asked: Asked, input: unknown): Outcome<BatchReply> {
  // Without a session somebody at home records, or the program itself.
  const onlyWeighs = asked.sessionId !== null && asked.person?.role !== "gardener";
  if (!onlyWeighs) return receiveObservations(house, input);
  const form = readForm(batchSchema, input);
  if (!form.ok) return form;
  const sorts = form.value.facts.map((fact) => sortOf.safeParse(fact).data ?? null);
  const sent = new Map(sorts.flatMap((sort) => (sort ? [[sort.id.toLowerCase(), sort] as const] : [])));
  // What cannot be read is refused for its form, as from anybody.
  const taken = sorts.map((sort) => sort === null || isOfWeighing(house.database, sort, sent));
  const received = receiveObservations(house, {
    ...form.value,
    facts: form.value.facts.filter((_, index) => taken[index]),
  });
  if (!received.ok) return received;
  const answers = received.value.replies.values();
  const replies = taken.map((isTaken, index): FactReply => {
    return isTaken ? answers.next().value! : { id: sorts[index]?.id ?? "", answer: "later", why };
  });
  return success({ ...received.value, replies });
}
