import { openHouse } from "@/lib/service/house";
import { openCopy } from "@/lib/service/open-copy";

export const dynamic = "force-dynamic";

/** The whole garden in one file: a copy made and checked now, so that what is handed out is whole. */
export async function GET(): Promise<Response> {
  const house = openHouse();
  if (!house.backUp) throw new Error("GET /files/garden-file requires a house that can be backed up");
  let name: string;
  try {
    name = await house.backUp();
  } catch (fault) {
    house.report?.(fault);
    const words =
      "The garden's file could not be copied: the disk may be full. Nothing was changed and nothing is lost.";
    return new Response(words, { status: 503, headers: { "Cache-Control": "no-store" } });
  }
  const copy = openCopy(house, name);
  if (!copy) return new Response("The copy is gone again; try once more.", { status: 503 });
  return new Response(copy.stream, {
    headers: {
      "Content-Type": "application/vnd.sqlite3",
      "Content-Length": String(copy.bytes),
      "Content-Disposition": `attachment; filename="${name}"`,
      "Cache-Control": "no-store",
    },
  });
}
