import * as z from "zod/mini";
import { openHouse } from "@/lib/service/house";
import { importAskedSchema } from "@/lib/service/import-asked";
import { readForm } from "@/lib/service/read-form";
import { runImport, stopImport } from "@/lib/service/run-import";

export const dynamic = "force-dynamic";

const uncached = { "Cache-Control": "no-store" };
const runSchema = z.object({ set: z.string(), asked: importAskedSchema, isWriting: z.boolean() });

/**
 * Tries a set of files or takes it in. The answer comes line by line as JSON: `{"part": 0.4}` while it goes on, then
 * `{"answer": …}`. Whoever stops listening stops the import, and nothing of it is written.
 */
export async function POST(request: Request): Promise<Response> {
  let sent: unknown;
  try {
    sent = await request.json();
  } catch {
    return Response.json({ faults: [] }, { status: 400, headers: uncached });
  }
  const form = readForm(runSchema, sent);
  if (!form.ok) return Response.json({ faults: form.faults }, { status: 400, headers: uncached });
  const house = openHouse();
  const stopping = new AbortController();
  request.signal.addEventListener("abort", () => stopping.abort());
  const encoder = new TextEncoder();
  const stream = new ReadableStream<Uint8Array>({
    async start(controller) {
      const say = (line: object) => {
        if (!stopping.signal.aborted) controller.enqueue(encoder.encode(`${JSON.stringify(line)}\n`));
      };
      try {
        const options = { tell: (part: number) => say({ part }), signal: stopping.signal };
        say({ answer: await runImport(house, form.value, options) });
      } catch (fault) {
        house.report?.(fault);
        const found = "the garden’s file could not be backed up first";
        const faults = [{ place: "file", found, wanted: "room on the disk; nothing was taken in" }];
        say({ answer: { state: "faulty", faults, count: 1 } });
      }
      if (!stopping.signal.aborted) controller.close();
    },
    cancel: () => stopping.abort(),
  });
  return new Response(stream, { headers: { ...uncached, "Content-Type": "application/x-ndjson" } });
}

/** Stops what is being done with a set: `?set=…`. Whether it was in time is told where it was asked for. */
export function DELETE(request: Request): Response {
  stopImport(new URL(request.url).searchParams.get("set") ?? "");
  return new Response(null, { status: 204, headers: uncached });
}
