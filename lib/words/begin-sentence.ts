/** The same words with a capital at the beginning, for names that are kept as they were typed: `kale` → `Kale`. */
export function beginSentence(words: string): string {
  const [first = ""] = words;
  return first.toLocaleUpperCase("en-GB") + words.slice(first.length);
}
