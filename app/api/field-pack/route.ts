import { askedBy } from "@/lib/service/asked-by";
import { fieldPack } from "@/lib/service/field-pack";
import { openHouse } from "@/lib/service/house";

export const dynamic = "force-dynamic";

/**
 * What a phone needs to walk and weigh. A phone that has this version already is told so in an empty answer (304). One
 * that names no contract is of the first.
 */
export function GET(request: Request): Response {
  const contract = Number(new URL(request.url).searchParams.get("contract") ?? "1");
  const house = openHouse();
  const pack = fieldPack(house, contract, askedBy(house, request.headers).person);
  const tag = `"${pack.version}"`;
  const headers = { ETag: tag, "Cache-Control": "private, no-cache" };
  const known = request.headers.get("If-None-Match")?.split(",") ?? [];
  if (known.some((held) => held.trim().replace(/^W\//, "") === tag)) {
    return new Response(null, { status: 304, headers });
  }
  return Response.json(pack, { headers });
}
