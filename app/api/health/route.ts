import { gardenName } from "@/lib/service/garden-name";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/** Whether the server is up and can read its file. */
export function GET(): Response {
  const empty = gardenName(openHouse()) === null;
  return Response.json({ ready: true, empty }, { headers: { "Cache-Control": "no-store" } });
}
