import { describe, expect, it } from "vitest";
import { factor } from "@/lib/statistics/factor";
import { gamesHowell } from "@/lib/statistics/games-howell";
import { holm } from "@/lib/statistics/holm";
import { kruskalWallis } from "@/lib/statistics/kruskal-wallis";
import { leveneTest } from "@/lib/statistics/levene-test";
import { linearModel } from "@/lib/statistics/linear-model";
import { allPairs, marginalDifferences } from "@/lib/statistics/marginal-means";
import { tukeyKramer } from "@/lib/statistics/tukey-kramer";
import { welchTest } from "@/lib/statistics/welch-test";
import { agreement } from "../agreement";
import reference from "./case.json";

const closed = agreement("varieties without blocks", 1e-10); // 1.7e-14 now seen
// The reference's digits end at about 1e-14, which shows in p below 1e-6. 1.7e-8 now seen.
const ranged = agreement("varieties without blocks, studentized range", 5e-8);

describe("varieties without blocks against R", () => {
  it.each(reference.cases)("$name", ({ data, expected }) => {
    const group = factor("group", data.group);
    const groups = group.levels.map((_, level) => data.y.filter((_, plot) => group.codes[plot] === level));
    for (const [ours, theirs] of [
      [welchTest(groups), expected.welch],
      [leveneTest(groups, "mean"), expected.levene],
      [leveneTest(groups), expected.brownForsythe],
    ] as const)
      closed.agreeAll([ours.f, ours.df1, ours.df2, ours.p], [theirs.f, theirs.df1, theirs.df2, theirs.p]);
    const ranks = kruskalWallis(groups);
    closed.agreeAll([ranks.statistic, ranks.p], [expected.kruskalWallis.statistic, expected.kruskalWallis.p]);
    expect(ranks.df).toBe(expected.kruskalWallis.df);

    const model = linearModel(data.y, [group], [["group"]]);
    const differences = marginalDifferences(model, "group", allPairs(group.levels), 0.95);
    const adjusted = tukeyKramer(differences, group.levels.length, 0.95);
    const stepped = holm(differences.map(({ p }) => p));
    const unequal = gamesHowell(
      group.levels.map((level, place) => ({ level, values: groups[place] })),
      0.95,
    );
    const want = expected.pairs;
    for (const [row, name] of want.contrast.entries()) {
      const isPair = (one: { level: string; reference: string }) =>
        `${one.level} - ${one.reference}` === name;
      const place = differences.findIndex(isPair);
      const plain = differences[place];
      closed.agreeAll(
        [plain.estimate, plain.se, plain.p, stepped[place]],
        [want.estimate[row], want.se[row], want.p[row], want.holm[row]],
      );
      const { low, high, p } = adjusted[place];
      ranged.agreeAll([low, high], [want.tukeyLow[row], want.tukeyHigh[row]]);
      ranged.agree(p, want.tukeyP[row]);
      const games = unequal.find(isPair);
      closed.agreeAll([games?.se ?? null, games?.df ?? null], [want.gamesSe[row], want.gamesDf[row]]);
      ranged.agreeAll(
        [games?.low ?? null, games?.high ?? null, games?.p ?? null],
        [want.gamesLow[row], want.gamesHigh[row], want.gamesP[row]],
      );
    }
  });
});
