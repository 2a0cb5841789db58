/**
 * The words for how sure a probability makes one, defined here once and shown on the page beside the verdict. They
 * serve upwards and downwards alike: what is *very probably met* at 90 times in 100 is *very probably missed* at 10.
 */
export const surenessWords = [
  { atLeast: 0.95, words: "almost certainly" },
  { atLeast: 0.8, words: "very probably" },
  { atLeast: 0.6, words: "probably" },
] as const;

function wordsFor(probability: number): string | null {
  // A probability that arithmetic left a hair below its bound belongs to the bound.
  return surenessWords.find((word) => probability >= word.atLeast - 1e-9)?.words ?? null;
}

/**
 * Whether a floor is met, in the words of `surenessWords`, and how often of 100 times; between 40 and 60 it may or may not
 * be: *is very probably met (93 times in 100)*, *is probably missed (met 24 times in 100)*.
 */
export function saySureness(probability: number): string {
  const times = sayTimesInAHundred(probability);
  const met = wordsFor(probability);
  if (met) return `is ${met} met (${times})`;
  const missed = wordsFor(1 - probability);
  return missed ? `is ${missed} missed (met ${times})` : `may or may not be met (${times})`;
}

/** A probability as times a person can picture: `94 times in 100`. */
export function sayTimesInAHundred(probability: number): string {
  const times = Math.round(probability * 100);
  if (times >= 100) return "more than 99 times in 100";
  if (times <= 0) return "less than once in 100";
  return times === 1 ? "once in 100" : `${times} times in 100`;
}
