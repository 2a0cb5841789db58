import { exportTrial, licenceNamed, zipExport } from "@/lib/service/export-trial";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/** One trial as a zip in open formats; `?licence=` says on what terms it may be passed on. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ id: string }> },
): Promise<Response> {
  const house = openHouse();
  const licence = licenceNamed(new URL(request.url).searchParams.get("licence"));
  const made = exportTrial(house, (await params).id, { licence });
  if (!made) return new Response("There is no such trial.", { status: 404 });
  return new Response(zipExport(house, made), {
    headers: {
      "Content-Type": "application/zip",
      "Content-Disposition": `attachment; filename="${made.fileName}"`,
      "Cache-Control": "no-store",
    },
  });
}
