import { svgFile } from "@/lib/figure/svg-file";
import { coldNights } from "@/lib/service/cold-nights";
import { figureType } from "@/lib/service/figure-type";
import { openHouse } from "@/lib/service/house";
import { trialFindings } from "@/lib/service/trial-findings";
import { trialView } from "@/lib/service/trial-view";
import { askedOf } from "../../asked";
import { drawingsOf } from "../../drawings";

export const dynamic = "force-dynamic";

const widthPx = 720;

/** One figure of the results as an SVG file that stands alone, under what the address asks for. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ id: string; name: string }> },
): Promise<Response> {
  const house = openHouse();
  const { id, name } = await params;
  const { searchParams } = new URL(request.url);
  const trial = trialView(house, id);
  const asked = askedOf((key) => searchParams.get(key), trial?.plots.map((plot) => plot.code) ?? []);
  const findings = trialFindings(house, id, asked);
  const figure =
    trial && findings
      ? Object.values(drawingsOf(trial, findings, asked, coldNights(house, findings)))
          .flat()
          .map((draw) => draw(widthPx))
          .find((drawn) => drawn?.id === name)
      : null;
  if (!figure) return new Response("There is no such figure.", { status: 404 });
  return new Response(svgFile(figure, figureType()), {
    headers: {
      "Content-Type": "image/svg+xml; charset=utf-8",
      "Content-Disposition": `attachment; filename="${figure.id}.svg"`,
      "Cache-Control": "no-store",
    },
  });
}
