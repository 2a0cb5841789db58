import { openHouse } from "@/lib/service/house";
import { beginPutBack } from "@/lib/service/look-at-copy";

export const dynamic = "force-dynamic";

/** Begins to put back the copy that the form names, and goes on to the page that tells how it ended. */
export async function POST(request: Request): Promise<Response> {
  const copy = (await request.formData()).get("copy");
  const begun = typeof copy === "string" && beginPutBack(openHouse(), copy);
  const place = begun ? "/files/put-back?ended" : "/files/put-back";
  return new Response(null, { status: 303, headers: { Location: place, "Cache-Control": "no-store" } });
}
