import { describe, expect, it } from "vitest";
import { agrestiCoullInterval } from "@/lib/statistics/agresti-coull-interval";
import { clopperPearsonInterval } from "@/lib/statistics/clopper-pearson-interval";
import type { Interval } from "@/lib/statistics/interval";
import { jeffreysInterval } from "@/lib/statistics/jeffreys-interval";
import { wilsonInterval } from "@/lib/statistics/wilson-interval";
import reference from "./case.json";

function agree(ours: Interval, theirs: number[]) {
  expect(Math.abs(ours.low - theirs[0])).toBeLessThan(reference.tolerance);
  expect(Math.abs(ours.high - theirs[1])).toBeLessThan(reference.tolerance);
}

describe("one share against R", () => {
  it.each(
    reference.expected.map((row) => [`${row.standing} of ${row.setOut} at ${row.level}`, row] as const),
  )("%s", (_name, { standing, setOut, level, ...limits }) => {
    agree(wilsonInterval(standing, setOut, level), limits.wilson);
    agree(clopperPearsonInterval(standing, setOut, level), limits.clopperPearson);
    agree(jeffreysInterval(standing, setOut, level), limits.jeffreys);
    const cut = limits.agrestiCoullUncut.map((limit) => Math.min(1, Math.max(0, limit)));
    agree(agrestiCoullInterval(standing, setOut, level), cut);
  });
});

it("one share against Newcombe's printed table", () => {
  const { wilson, clopperPearson, tolerance } = reference.published;
  reference.expected.slice(0, 4).forEach(({ standing, setOut }, row) => {
    const printed: [Interval, number[]][] = [
      [wilsonInterval(standing, setOut, 0.95), wilson[row]],
      [clopperPearsonInterval(standing, setOut, 0.95), clopperPearson[row]],
    ];
    for (const [ours, theirs] of printed) {
      expect(Math.abs(ours.low - theirs[0])).toBeLessThan(tolerance);
      expect(Math.abs(ours.high - theirs[1])).toBeLessThan(tolerance);
    }
  });
});
