import { type PooledSurvival, pooledSurvival } from "@/lib/statistics/pooled-survival";

const most = 2_000;
const kept = new Map<string, PooledSurvival>();

/** Whether it is kept for these winters: what is not takes about a tenth of a second. */
export function hasPooledSurvival(of: Parameters<typeof pooledSurvival>): boolean {
  return kept.has(JSON.stringify(of));
}

/** Keeps what was worked out for these winters elsewhere. */
export function keepPooledSurvival(of: Parameters<typeof pooledSurvival>, made: PooledSurvival): void {
  kept.set(JSON.stringify(of), made);
  if (kept.size > most) kept.delete(kept.keys().next().value as string);
}

/** `pooledSurvival`, worked out once for the same winters. */
export const keptPooledSurvival: typeof pooledSurvival = (...of) => {
  const ready = kept.get(JSON.stringify(of));
  if (ready) return ready;
  const made = pooledSurvival(...of);
  keepPooledSurvival(of, made);
  return made;
};
