/** What spreadsheets take for a formula's beginning, wide forms of the signs included. */
const formula = /^'*[=+\-@＝＋－＠]/;

/**
 * A value as it stands in a file that may be opened as a spreadsheet: one that would be taken for a formula has an
 * apostrophe put before it. One that has apostrophes there already gets one more, so that `restoredCell` gives back the
 * same value. Spaces at its ends are taken off, as they are in reading.
 *
 * Source: OWASP, *CSV Injection*, owasp.org/www-community/attacks/CSV_Injection (tabs and line ends at the beginning,
 * which it names too, go with the spaces). Checked: tests/property/records.test.ts.
 *
 * Example: neutralCell("=1+1") → `'=1+1`; neutralCell("’tis late") is as it was.
 */
export function neutralCell(text: string): string {
  const trimmed = text.trim();
  return formula.test(trimmed) ? `'${trimmed}` : trimmed;
}

/** The value that `neutralCell` was given. */
export function restoredCell(text: string): string {
  return text.startsWith("'") && formula.test(text) ? text.slice(1) : text;
}
