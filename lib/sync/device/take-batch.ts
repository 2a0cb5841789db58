import { type Batch, batchLimit, contractVersion } from "@/lib/sync/contract";
import type { Fact } from "@/lib/words/bed-fact";

const encoder = new TextEncoder();

/** The bytes of a batch as it is sent. */
export function batchBytes(facts: Fact[]): number {
  return encoder.encode(JSON.stringify({ contract: contractVersion, facts } satisfies Batch)).length;
}

/**
 * The first facts of a queue that fit one sending. The first always goes, however large: a fact by itself is far below
 * the limit, and one that were not must be answered by home rather than wait for ever.
 */
export function takeBatch(queue: Fact[], limit: { facts: number; bytes: number } = batchLimit): Fact[] {
  const taken: Fact[] = [];
  let bytes = batchBytes([]);
  for (const fact of queue) {
    if (taken.length === limit.facts) break;
    const more = encoder.encode(JSON.stringify(fact)).length + (taken.length > 0 ? 1 : 0);
    if (taken.length > 0 && bytes + more > limit.bytes) break;
    taken.push(fact);
    bytes += more;
  }
  return taken;
}
