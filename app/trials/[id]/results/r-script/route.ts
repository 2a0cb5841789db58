import { openHouse } from "@/lib/service/house";
import { trialScript } from "@/lib/service/trial-script";
import { trialView } from "@/lib/service/trial-view";
import { askedOf } from "../asked";

export const dynamic = "force-dynamic";

/** The results' figures as a script in R with the data in it, for the day and the measure in the address. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ id: string }> },
): Promise<Response> {
  const house = openHouse();
  const { id } = await params;
  const { searchParams } = new URL(request.url);
  const codes = trialView(house, id)?.plots.map((plot) => plot.code) ?? [];
  const script = trialScript(
    house,
    id,
    askedOf((name) => searchParams.get(name), codes),
  );
  if (!script) return new Response("There is nothing to work out yet.", { status: 404 });
  return new Response(script.text, {
    headers: {
      "Content-Type": "text/plain; charset=utf-8",
      "Content-Disposition": `attachment; filename="${script.fileName}"`,
      "Cache-Control": "no-store",
    },
  });
}
