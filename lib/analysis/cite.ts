import { type SourceKey, sources } from "@/lib/statistics/sources";

/** Where methods come from, as a reader can look them up: author, year, title, place, DOI. */
export function cite(...keys: SourceKey[]): string[] {
  return keys.map((key) => {
    const { author, year, title, where, doi } = sources[key];
    return `${author} (${year}). ${title}. ${where}.${doi ? ` doi:${doi}` : ""}`;
  });
}
