/** How a file's letters are written down; `binary` is no text at all. */
export type Encoding = "utf-8" | "utf-16le" | "utf-16be" | "windows-1252" | "binary";

/** Reads UTF-8 byte by byte: how many letters of several bytes are well formed, and how many bytes are not. */
function utf8Tally(): { take(byte: number): void; end(): { whole: number; broken: number } } {
  let whole = 0;
  let broken = 0;
  let owed = 0;
  let lowest = 0x80;
  let highest = 0xbf;
  const begin = (byte: number) => {
    lowest = 0x80;
    highest = 0xbf;
    if (byte < 0x80) return;
    if (byte >= 0xc2 && byte <= 0xdf) owed = 1;
    else if (byte >= 0xe0 && byte <= 0xef) owed = 2;
    else if (byte >= 0xf0 && byte <= 0xf4) owed = 3;
    else broken += 1;
    // Overlong forms, halves of pairs and what lies beyond the last letter are no letters.
    if (byte === 0xe0) lowest = 0xa0;
    if (byte === 0xed) highest = 0x9f;
    if (byte === 0xf0) lowest = 0x90;
    if (byte === 0xf4) highest = 0x8f;
  };
  return {
    take(byte) {
      if (owed === 0) return begin(byte);
      if (byte < lowest || byte > highest) {
        broken += 1;
        owed = 0;
        return begin(byte);
      }
      lowest = 0x80;
      highest = 0xbf;
      owed -= 1;
      if (owed === 0) whole += 1;
    },
    end: () => ({ whole, broken: broken + (owed > 0 ? 1 : 0) }),
  };
}

function marked(start: Uint8Array): Encoding | null {
  if (start[0] === 0xef && start[1] === 0xbb && start[2] === 0xbf) return "utf-8";
  if (start[0] === 0xff && start[1] === 0xfe) return "utf-16le";
  if (start[0] === 0xfe && start[1] === 0xff) return "utf-16be";
  return null;
}

/** Plain letters in UTF-16 have a zero as every other byte. */
function byZeros(start: Uint8Array): Encoding | null {
  const zeros = [0, 0];
  start.forEach((byte, index) => {
    if (byte === 0) zeros[index % 2] += 1;
  });
  const pairs = start.length / 2;
  if (zeros[1] > pairs * 0.3 && zeros[0] < pairs * 0.1) return "utf-16le";
  if (zeros[0] > pairs * 0.3 && zeros[1] < pairs * 0.1) return "utf-16be";
  return zeros[0] + zeros[1] > 0 ? "binary" : null;
}

/**
 * Tells how a text file is encoded: by its mark, by zeros at every other byte, or by whether it holds as UTF-8; what
 * does not is taken for Windows-1252. A file that is UTF-8 but for a few spoilt bytes stays UTF-8, so that the cells
 * concerned are found at fault instead of all letters being misread.
 *
 * @param chunks the whole file, in pieces
 */
export function tellEncoding(chunks: Iterable<Uint8Array>): Encoding {
  const tally = utf8Tally();
  let isFirst = true;
  for (const chunk of chunks) {
    if (isFirst) {
      const start = chunk.subarray(0, 4096);
      const known = marked(start) ?? byZeros(start);
      if (known !== null) return known;
      isFirst = false;
    }
    for (let index = 0; index < chunk.length; index += 1) tally.take(chunk[index]);
  }
  const { whole, broken } = tally.end();
  return broken === 0 || whole > broken ? "utf-8" : "windows-1252";
}

/** The text of a file in pieces, without its mark; bytes that are no letters become U+FFFD. */
export function* decodeChunks(
  chunks: Iterable<Uint8Array>,
  encoding: Exclude<Encoding, "binary">,
): Generator<string> {
  const decoder = new TextDecoder(encoding);
  for (const chunk of chunks) yield decoder.decode(chunk, { stream: true });
  yield decoder.decode();
}
