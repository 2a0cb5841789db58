import { exportTable } from "@/lib/service/export-garden";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/** One table of the garden as comma-separated values; `?place=exact` tells where the garden lies. */
export async function GET(
  request: Request,
  { params }: { params: Promise<{ name: string }> },
): Promise<Response> {
  const exactPlace = new URL(request.url).searchParams.get("place") === "exact";
  const made = exportTable(openHouse(), (await params).name, { exactPlace });
  if (!made) return new Response("There is no such table.", { status: 404 });
  return new Response(made.stream, {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="${made.fileName}"`,
      "Cache-Control": "no-store",
    },
  });
}
