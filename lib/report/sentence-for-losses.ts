import type { LossShare } from "@/lib/analysis/finding";
import { sayCause } from "@/lib/words/cause";

/** What took a variety's plants, most first: *Hollin lost 12: cold 7, slugs 3, gone without a sign 2.* */
export function sentenceForLosses(variety: string, losses: LossShare[]): string {
  const own = losses
    .filter((loss) => loss.variety === variety && loss.plants > 0)
    .sort((a, b) => b.plants - a.plants);
  const total = own.reduce((sum, loss) => sum + loss.plants, 0);
  if (total === 0) return `${variety} lost none.`;
  if (own.every((loss) => loss.cause === "unknown"))
    return `${variety} lost ${total}, to what was not noted.`;
  const causes = own.map((loss) => `${sayCause(loss.cause)} ${loss.plants}`).join(", ");
  return `${variety} lost ${total}: ${causes}.`;
}
