import { openHouse } from "@/lib/service/house";
import { keepPicture } from "@/lib/service/keep-picture";
import { readPicture } from "@/lib/service/read-picture";
import { mostPictureBytes } from "@/lib/words/picture";

export const dynamic = "force-dynamic";

type Context = { params: Promise<{ sha256: string }> };

const uncached = { "Cache-Control": "no-store" };

/** Takes in one picture, raw. 200 once it is on the disk; 400 when it is not what its name says; 413 when too large. */
export async function PUT(request: Request, { params }: Context): Promise<Response> {
  const { sha256 } = await params;
  if (Number(request.headers.get("content-length") ?? 0) > mostPictureBytes) {
    const faults = [{ place: "picture", found: "more", wanted: `at most ${mostPictureBytes} bytes` }];
    return Response.json({ faults }, { status: 413, headers: uncached });
  }
  const outcome = keepPicture(openHouse(), sha256, new Uint8Array(await request.arrayBuffer()));
  if (!outcome.ok) return Response.json({ faults: outcome.faults }, { status: 400, headers: uncached });
  return Response.json(outcome.value, { headers: uncached });
}

/** Gives a picture back: never as anything but a picture, whatever its bytes are. */
export async function GET(_request: Request, { params }: Context): Promise<Response> {
  const { sha256 } = await params;
  const picture = readPicture(openHouse(), sha256);
  if (picture === null) return new Response("No such picture.\n", { status: 404, headers: uncached });
  return new Response(picture.bytes, {
    headers: {
      "Content-Type": picture.mediaType,
      "Content-Disposition": `inline; filename="${sha256.slice(0, 12)}"`,
      "Content-Security-Policy": "default-src 'none'; sandbox",
      "Cache-Control": "private, max-age=31536000, immutable",
    },
  });
}
