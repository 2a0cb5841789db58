/** How often one caller may ask: `perSecond` in the long run, `burst` at once. */
export interface RateRule {
  perSecond: number;
  burst: number;
}

/**
 * Keeps callers to a rate, each by its address: a bucket that fills at `perSecond` up to `burst` and is emptied by one
 * with each request. Made against runaway pages and hammering scripts, not against attackers with many addresses.
 *
 * @returns asked with an address and the time in milliseconds, whether the request may go on.
 */
export function rateLimit(rule: RateRule): (address: string, atMs: number) => boolean {
  const buckets = new Map<string, { tokens: number; atMs: number }>();
  const mostCallers = 10_000;
  return (address, atMs) => {
    const bucket = buckets.get(address) ?? { tokens: rule.burst, atMs };
    const gained = (Math.max(0, atMs - bucket.atMs) / 1000) * rule.perSecond;
    const tokens = Math.min(rule.burst, bucket.tokens + gained);
    const allowed = tokens >= 1;
    if (buckets.size >= mostCallers && !buckets.has(address)) buckets.clear();
    buckets.set(address, { tokens: allowed ? tokens - 1 : tokens, atMs });
    return allowed;
  };
}
