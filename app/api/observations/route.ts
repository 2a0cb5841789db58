import { askedBy } from "@/lib/service/asked-by";
import { openHouse } from "@/lib/service/house";
import { receiveFrom } from "@/lib/service/receive-from";
import { batchLimit } from "@/lib/sync/contract";

export const dynamic = "force-dynamic";

const uncached = { "Cache-Control": "no-store" };

/**
 * Takes in a batch of facts; see `lib/sync/contract.ts`. The answer is 200 with an answer for each id; 400 when what came
 * is no batch, 413 when it is too long. Either of those says nothing of any fact: the sender keeps them all.
 */
export async function POST(request: Request): Promise<Response> {
  const body = await request.text();
  if (new TextEncoder().encode(body).length > batchLimit.bytes) {
    const faults = [{ place: "batch", found: "more", wanted: `at most ${batchLimit.bytes} bytes` }];
    return Response.json({ faults }, { status: 413, headers: uncached });
  }
  let sent: unknown;
  try {
    sent = JSON.parse(body);
  } catch {
    const faults = [{ place: "batch", found: "text that is no JSON", wanted: "JSON" }];
    return Response.json({ faults }, { status: 400, headers: uncached });
  }
  const house = openHouse();
  const outcome = receiveFrom(house, askedBy(house, request.headers), sent);
  if (!outcome.ok) return Response.json({ faults: outcome.faults }, { status: 400, headers: uncached });
  return Response.json(outcome.value, { headers: uncached });
}
