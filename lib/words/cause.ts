/**
 * What takes plants, in the one fixed order in which it is offered; *gone without a sign* and *unknown* always stand
 * last. The grower may add causes of their own, which follow *trodden or hoed*.
 */
export const causes = [
  { code: "slugs", words: "slugs" },
  { code: "flea-beetle", words: "flea beetle" },
  { code: "cold", words: "cold" },
  { code: "birds", words: "birds" },
  { code: "mammals", words: "mammals" },
  { code: "root-fly", words: "root fly" },
  { code: "soil-grubs", words: "soil grubs" },
  { code: "aphids", words: "aphids" },
  { code: "rot", words: "rot or mildew" },
  { code: "drought", words: "drought" },
  { code: "waterlogging", words: "waterlogging" },
  { code: "wind", words: "wind or cover failure" },
  { code: "did-not-take", words: "did not take" },
  { code: "trodden", words: "trodden or hoed" },
  { code: "no-sign", words: "gone without a sign" },
  { code: "unknown", words: "unknown" },
] as const;

/** Why a plant was taken out by a person: none of these is a loss. */
export const removalReasons = [
  { code: "cut", words: "cut" },
  { code: "thinned", words: "thinned" },
  { code: "moved", words: "moved" },
  { code: "not-true", words: "not true to name" },
  { code: "cleared", words: "cleared" },
  { code: "accident", words: "known accident, nothing to do with the variety" },
] as const;

/** The words of a cause or removal reason; an unlisted code (one of the grower's own) is its own words. */
export function sayCause(code: string): string {
  const known = [...causes, ...removalReasons].find((cause) => cause.code === code);
  return known?.words ?? code.replaceAll("-", " ");
}
