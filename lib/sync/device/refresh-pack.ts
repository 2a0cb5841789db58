import type { FieldPack } from "@/lib/sync/field-pack";
import { type Fact, isBedFact } from "@/lib/words/bed-fact";
import type { Instant } from "@/lib/words/instant";
import { completePack } from "./complete-pack";
import type { DeviceStore } from "./device-store";
import type { OutboxEntry } from "./outbox-entry";
import type { Trouble } from "./send-round";

/** Asks home for the field pack; `etag` is of the one kept here. Rejects when there is no network. */
export type AskForPack = (
  etag: string | null,
) => Promise<{ status: number; text: string; etag: string | null }>;

function readPack(text: string): FieldPack | null {
  try {
    const pack = JSON.parse(text) as FieldPack;
    const whole = [pack.beds, pack.trials, pack.facts, pack.causes].every(Array.isArray);
    return whole && typeof pack.timeZone === "string" ? completePack(pack) : null;
  } catch {
    return null;
  }
}

/**
 * The entries that home has and that the pack shows, or whose plot or bed, or whose day, is no longer in it: nothing is
 * lost with them.
 */
export function seenAtHome(entries: OutboxEntry[], pack: FieldPack): string[] {
  const shown = new Set([...pack.facts, ...pack.bedFacts].map((fact) => fact.id));
  const plots = new Set(pack.beds.flatMap((bed) => bed.plots.map((plot) => plot.id)));
  const beds = new Set(pack.beds.map((bed) => bed.id));
  const walked = (fact: Fact) =>
    isBedFact(fact) ? beds.has(fact.bedId) && fact.seenOn >= pack.bedFactsSince : plots.has(fact.plotId);
  return entries
    .filter((entry) => entry.state === "home" && (shown.has(entry.id) || !walked(entry.fact)))
    .map((entry) => entry.id);
}

/** Brings the field pack up to date where home can be reached, and forgets what it now shows. */
export async function refreshPack(
  store: DeviceStore,
  ask: AskForPack,
  fetchedAt: Instant,
): Promise<"new" | "same" | Trouble> {
  const kept = (await store.kept()).pack;
  let answer: Awaited<ReturnType<AskForPack>>;
  try {
    answer = await ask(kept?.etag ?? null);
  } catch {
    return "no signal";
  }
  if (answer.status === 401 || answer.status === 403) return "sign in";
  if (answer.status === 304) return "same";
  const pack = answer.status === 200 ? readPack(answer.text) : null;
  if (pack === null) return "home cannot answer";
  await store.keep({ pack: { pack, etag: answer.etag, fetchedAt } });
  await store.forgetHome(seenAtHome(await store.entries(), pack));
  return "new";
}
