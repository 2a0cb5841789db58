/**
 * A figure with its decimal mark as a point and no marks between thousands, where the file leaves no doubt: `1.234,5` and
 * `1,234.5` say it themselves; in a file with decimal commas `1,250` is one and a quarter. What stays in doubt is given
 * back as it is, for `parseNumber` to refuse. A unit behind the figure stays.
 *
 * @param decimalComma whether the file writes decimals with a comma, as files separated by semicolons do
 */
export function plainFigure(text: string, decimalComma: boolean): string {
  const trimmed = text.trim();
  if (/^[-−]?\d{1,3}(\.\d{3})+,\d+/.test(trimmed)) return trimmed.replaceAll(".", "").replace(",", ".");
  if (/^[-−]?\d{1,3}(,\d{3})+\.\d+/.test(trimmed)) return trimmed.replaceAll(",", "");
  if (decimalComma && /^[-−]?\d+,\d+(?![\d,])/.test(trimmed)) return trimmed.replace(",", ".");
  return trimmed;
}

/** Whether a figure of a file with decimal commas could have thousands in it: `1.200`. */
export function mayBeThousands(text: string, decimalComma: boolean): boolean {
  return decimalComma && /^[-−]?[1-9]\d{0,2}\.\d{3}(?![\d,.])/.test(text.trim());
}
