import { isDay, sayDay } from "./day";

/** Names that people give to having no cover at all. */
const nothingOver =
  /^(in the |the )?open( ground| air)?$|^(none|nothing|uncovered|bare|bare ground|no covers?)$/i;

/** The crop without any companion, where companions are compared. */
const withoutCompanion = "alone";

/** A level of companions, in the words by which it is called everywhere: `with onions between`, `alone`. */
export function sayCompanionLevel(companion: string | null): string {
  return companion === null ? withoutCompanion : `with ${companion} between`;
}

/**
 * What whole main plots were dealt, as part of a sentence: `under fleece`, `in the open`, `with no net`,
 * `sown Fri 14 Aug 2026`, `with onions between`, `alone`.
 */
export function sayUnder(level: string): string {
  const [, sown = ""] = /^sown (.*)$/i.exec(level) ?? [];
  if (sown !== "") return `sown ${isDay(sown) ? sayDay(sown, true) : sown}`;
  if (level === "sowing not said") return "of a sowing that was not said";
  if (nothingOver.test(level.trim())) return "in the open";
  if (level === withoutCompanion || /^with .+ between$/.test(level)) return level;
  return /^(no|without) /i.test(level) ? level.replace(/^no /i, "with no ") : `under ${level}`;
}

/** The same as a heading or a label, where no sentence stands about it: `fleece`, `open ground`, `sown Fri 14 Aug 2026`. */
export function sayLevel(level: string): string {
  return /^sown /i.test(level) ? sayUnder(level) : level;
}
