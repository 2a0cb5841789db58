import { exportGarden } from "@/lib/service/export-garden";
import { licenceNamed } from "@/lib/service/export-trial";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/** The whole garden as a zip in open formats; `?licence=` says on what terms, `?place=exact` tells where it lies. */
export async function GET(request: Request): Promise<Response> {
  const asked = new URL(request.url).searchParams;
  const made = exportGarden(openHouse(), {
    licence: licenceNamed(asked.get("licence")),
    exactPlace: asked.get("place") === "exact",
  });
  if (!made) return new Response("There is no garden yet.", { status: 404 });
  return new Response(made.stream, {
    headers: {
      "Content-Type": "application/zip",
      "Content-Disposition": `attachment; filename="${made.fileName}"`,
      "Cache-Control": "no-store",
    },
  });
}
