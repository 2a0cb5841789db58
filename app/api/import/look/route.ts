import { openHouse } from "@/lib/service/house";
import { importKinds } from "@/lib/service/import-asked";
import { lookAtFiles } from "@/lib/service/look-at-files";

export const dynamic = "force-dynamic";

const uncached = { "Cache-Control": "no-store" };

/** What a set of files holds at first sight: `?set=…&kind=…`. */
export function GET(request: Request): Response {
  const asked = new URL(request.url).searchParams;
  const kind = importKinds.find((one) => one === asked.get("kind"));
  if (!kind) return Response.json({ faults: [] }, { status: 400, headers: uncached });
  return Response.json(lookAtFiles(openHouse(), asked.get("set") ?? "", kind), { headers: uncached });
}
