import { afterAll, expect } from "vitest";

/**
 * Compares figures with a reference's, relative to the reference (below a millionth, to a millionth), and keeps the
 * largest gap seen. `SHOW_GAP=1` prints it, so that the gap written beside a tolerance can be read off and not guessed.
 */
export function agreement(name: string, tolerance: number) {
  let worst = 0;
  afterAll(() => {
    if (process.env.SHOW_GAP) process.stdout.write(`${name}: largest gap ${worst.toExponential(1)}\n`);
  });
  const agree = (ours: number | null, theirs: number | null) => {
    if (ours === null || theirs === null) {
      expect(ours).toBe(theirs);
      return;
    }
    const gap = Math.abs(ours - theirs) / Math.max(1e-6, Math.abs(theirs));
    worst = Math.max(worst, gap);
    expect(gap, `${ours} for ${theirs}`).toBeLessThanOrEqual(tolerance);
  };
  const agreeAll = (ours: ArrayLike<number | null>, theirs: ArrayLike<number | null>) => {
    expect(ours.length).toBe(theirs.length);
    for (let at = 0; at < theirs.length; at += 1) agree(ours[at], theirs[at]);
  };
  return { agree, agreeAll };
}
