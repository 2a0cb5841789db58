import { tellSeparator } from "@/lib/records/separator";
import { splitRows } from "@/lib/records/split-rows";
import { type Fault, type Outcome, quoteFound, refusal, success } from "@/lib/words/fault";
import type { EntryRole } from "@/lib/words/trial";

export interface ListedEntry {
  variety: string;
  packetClaim: string | null;
  role: EntryRole;
}

const mostEntries = 60;
const longestName = 80;
const longestClaim = 10_000;

/** What a first row may call each column; without one they are taken in this order. */
const headings = {
  variety: /^(variety|varieties|name|entry|cultivar)$/i,
  packetClaim: /^(packet([ _]?(claim|says))?|claim|description|note|notes)$/i,
  role: /^(role|grown[ _]as|kind|check)$/i,
} as const;
type Part = keyof typeof headings;
const parts = ["variety", "packetClaim", "role"] as const satisfies Part[];

/** The role that a cell names; null where none is known by that word. */
function roleOf(cell: string): EntryRole | null {
  const word = cell.toLowerCase().replace(/[\s_-]+/g, " ");
  if (/^(the )?(check|control|standard)$/.test(word)) return "check";
  if (/^(the )?tender( check)?$/.test(word)) return "tender-check";
  return /^(|entry|on trial|variety|no)$/.test(word) ? "entry" : null;
}

/** Which column holds what, by a first row of headings; null where the first row is a variety already. */
function columnsOf(first: readonly string[]): Record<Part, number> | null {
  const at = (part: Part) => first.findIndex((cell) => headings[part].test(cell.trim()));
  if (at("variety") < 0) return null;
  return { variety: at("variety"), packetClaim: at("packetClaim"), role: at("role") };
}

/**
 * Reads the varieties of a trial from a list: one a line, or rows of a spreadsheet as they are pasted or saved as CSV, with
 * what the packet says and whether it is the check. A first row of headings is known by *variety* in it; columns of other
 * names are passed over. Refused with every fault, its place `line` and the number of the line.
 */
export function readEntryList(text: string): Outcome<ListedEntry[]> {
  const rows = [...splitRows([text.replace(/^\uFEFF/, "")], tellSeparator(text))];
  const named = rows.length > 0 ? columnsOf(rows[0].values) : null;
  const columns = named ?? { variety: 0, packetClaim: 1, role: 2 };
  const faults: Fault[] = [];
  const seen = new Map<string, number>();
  const roles = new Map<EntryRole, number>();
  const entries = rows.slice(named ? 1 : 0).flatMap(({ line, values, isBroken }): ListedEntry[] => {
    const refuse = (found: string, wanted: string) => {
      faults.push({ place: `line ${line}`, found, wanted });
      return [];
    };
    if (isBroken) return refuse("a quotation mark that is left open", "quotation marks in pairs");
    const [variety, packetClaim, role] = parts.map((part) => (values[columns[part]] ?? "").trim());
    if (variety === "") return refuse("a row without a variety", "the variety’s name");
    if (variety.length > longestName)
      return refuse(quoteFound(variety), `a name of ${longestName} letters at most`);
    if (packetClaim.length > longestClaim)
      return refuse(`${packetClaim.length} letters`, `what the packet says in ${longestClaim} at most`);
    const before = seen.get(variety.toLowerCase());
    if (before !== undefined) return refuse(variety, `a variety that is not in line ${before} already`);
    seen.set(variety.toLowerCase(), line);
    const as = roleOf(role);
    if (as === null) return refuse(quoteFound(role), "check, tender check, or nothing");
    const other = roles.get(as);
    if (as !== "entry" && other !== undefined)
      return refuse(`${variety} as ${role}`, `one of that kind; line ${other} is it already`);
    roles.set(as, line);
    return [{ variety, packetClaim: packetClaim || null, role: as }];
  });
  if (faults.length > 0) return refusal(faults);
  if (entries.length === 0)
    return refusal([{ place: "line 1", found: "no variety", wanted: "a variety in each line" }]);
  if (entries.length > mostEntries)
    return refusal([
      {
        place: `line ${rows[mostEntries].line}`,
        found: `${entries.length} varieties`,
        wanted: `${mostEntries} at most`,
      },
    ]);
  return success(entries);
}
