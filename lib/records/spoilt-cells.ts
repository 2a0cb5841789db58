import { type Fault, quoteFound } from "@/lib/words/fault";
import type { SplitRow } from "./split-rows";

/** Letters lost in decoding, and signs that no keyboard writes into a table. */
const lostLetter = "\uFFFD";
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const controlSign = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;

/**
 * What is wrong with a row as it was split, whatever it holds: an open quotation mark, letters lost in decoding, control
 * signs, more values than columns.
 *
 * @param names the file's columns in order, as they are to be told in a fault; a nameless one is told by its number
 */
export function spoiltCells(
  { line, values, isBroken }: SplitRow,
  names: readonly string[],
  file: string,
): Fault[] {
  const faults: Fault[] = [];
  if (isBroken)
    faults.push({
      place: `${file}:${line}:1`,
      found: quoteFound(values.join(",").slice(0, 200).replace(/\s+/g, " ")),
      wanted: "a quoted value that is closed with a quotation mark, marks inside it doubled",
    });
  values.forEach((value, index) => {
    const place = `${file}:${line}:${names[index] || index + 1}`;
    if (value.includes(lostLetter))
      faults.push({ place, found: quoteFound(value), wanted: "text saved as UTF-8" });
    if (controlSign.test(value))
      faults.push({
        place,
        found: quoteFound(value.replace(controlSign, "?")),
        wanted: "text without control signs",
      });
  });
  const beyond = values.findIndex((value, index) => index >= names.length && value.trim() !== "");
  if (beyond >= 0)
    faults.push({
      place: `${file}:${line}:${beyond + 1}`,
      found: quoteFound(values[beyond]),
      wanted: `${names.length} values, one for each column`,
    });
  return faults;
}
