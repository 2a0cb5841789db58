import { Zip, ZipDeflate, ZipPassThrough } from "fflate";
import type { Instant } from "@/lib/words/instant";

export interface ZippedFile {
  name: string;
  /** Whether its bytes are packed tight already, as a picture's are. */
  isPacked?: boolean;
  pieces: Iterable<Uint8Array>;
}

/** Files as one zip, piece by piece: no more of it stands in memory than was asked for. */
export function* zipPieces(files: Iterable<ZippedFile>, madeAt: Instant): Generator<Uint8Array> {
  const ready: Uint8Array[] = [];
  const zip = new Zip((fault, piece) => {
    if (fault) throw fault;
    ready.push(piece);
  });
  for (const { name, isPacked, pieces } of files) {
    const file = isPacked ? new ZipPassThrough(name) : new ZipDeflate(name, { level: 6 });
    file.mtime = madeAt;
    zip.add(file);
    for (const piece of pieces) {
      file.push(piece);
      yield* ready.splice(0);
    }
    file.push(new Uint8Array(0), true);
    yield* ready.splice(0);
  }
  zip.end();
  yield* ready.splice(0);
}
