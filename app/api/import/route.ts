import { openHouse } from "@/lib/service/house";
import { stageFile } from "@/lib/service/staged-files";

export const dynamic = "force-dynamic";

const uncached = { "Cache-Control": "no-store" };

/**
 * Takes one file to be looked at, as it is being sent; `name` is its name, `set` the set that it joins. Nothing of the
 * record changes. The answer names the set.
 */
export async function POST(request: Request): Promise<Response> {
  const asked = new URL(request.url).searchParams;
  const staged = await stageFile(openHouse(), {
    set: asked.get("set"),
    name: asked.get("name") ?? "",
    stream: request.body,
  });
  if (!staged.ok) return Response.json({ faults: staged.faults }, { status: 413, headers: uncached });
  return Response.json(staged.value, { headers: uncached });
}
