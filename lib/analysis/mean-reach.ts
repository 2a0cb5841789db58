/** How far limits lie from the middle between them, on average: half their width, on their own scale; null without any. */
export function meanReach(limits: readonly { low: number | null; high: number | null }[]): number | null {
  const widths = limits.flatMap(({ low, high }) => (low === null || high === null ? [] : [high - low]));
  return widths.length === 0 ? null : widths.reduce((sum, width) => sum + width, 0) / widths.length / 2;
}
