import { takeCopy } from "@/lib/service/copy-files";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/** Takes a garden's file that is to be put back, as it is being sent. The answer names it; the garden is not changed. */
export async function POST(request: Request): Promise<Response> {
  const headers = { "Cache-Control": "no-store" };
  const house = openHouse();
  try {
    const taken = await takeCopy(house, request.body);
    return taken.ok
      ? Response.json(taken.value, { headers })
      : Response.json({ faults: taken.faults }, { status: 415, headers });
  } catch (fault) {
    house.report?.(fault);
    const wanted = "room on the disk for it, and another try";
    const faults = [{ place: "file", found: "it could not be written down at home", wanted }];
    return Response.json({ faults }, { status: 507, headers });
  }
}
