import { describe, expect, it } from "vitest";
import { fisherExact } from "@/lib/statistics/fisher-exact";
import type { Estimate } from "@/lib/statistics/interval";
import { miettinenNurminenDifference } from "@/lib/statistics/miettinen-nurminen-difference";
import { newcombeDifference } from "@/lib/statistics/newcombe-difference";
import reference from "./case.json";

function agree(ours: number, theirs: number | string) {
  const wanted = Number(theirs);
  if (ours === wanted) return;
  expect(Math.abs(ours - wanted)).toBeLessThan(reference.tolerance * Math.max(1, Math.abs(wanted)));
}

function agreeAll({ estimate, low, high }: Estimate, theirs: (number | string)[]) {
  agree(estimate, theirs[0]);
  agree(low, theirs[1]);
  agree(high, theirs[2]);
}

const weighed = ({ standing, setOut }: { standing: number; setOut: number }) => ({
  share: standing / setOut,
  plants: setOut,
});

describe("two shares against R", () => {
  it.each(reference.expected.map((row) => [row.label, row] as const))(
    "%s",
    (_label, { a, b, level, ...expected }) => {
      agreeAll(newcombeDifference(weighed(a), weighed(b), level), expected.newcombe);
      agreeAll(miettinenNurminenDifference(a, b, level), expected.miettinenNurminen);
      const fisher = fisherExact(a, b, level);
      agree(fisher.p, expected.fisher.p);
      agree(fisher.pLess, expected.fisher.pLess);
      agree(fisher.pGreater, expected.fisher.pGreater);
      const [oddsRatio, low, high] = expected.fisher.oddsRatio;
      // R calls the odds ratio 0 where the margins allow one table only; nothing can be estimated there.
      if (a.standing + b.standing === 0) expect(fisher.oddsRatio).toBeNull();
      else agree(fisher.oddsRatio ?? Number.NaN, oddsRatio);
      agree(fisher.low, low);
      agree(fisher.high, high);
    },
  );
});

it("two shares against Newcombe's printed table", () => {
  const { newcombe, miettinenNurminen, tolerance } = reference.published;
  reference.expected.slice(0, 8).forEach(({ a, b }, row) => {
    const printed: [Estimate, number[]][] = [
      [newcombeDifference(weighed(a), weighed(b), 0.95), newcombe[row]],
      [miettinenNurminenDifference(a, b, 0.95), miettinenNurminen[row]],
    ];
    for (const [ours, theirs] of printed) {
      expect(Math.abs(ours.low - theirs[0])).toBeLessThan(tolerance);
      expect(Math.abs(ours.high - theirs[1])).toBeLessThan(tolerance);
    }
  });
});
