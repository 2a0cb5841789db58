import { expect, it } from "vitest";
import { probabilityOfSuperiority } from "@/lib/statistics/probability-of-superiority";
import { vanElteren } from "@/lib/statistics/van-elteren";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("scores", reference.tolerance);
const [{ data, expected }] = reference.cases;
const of = (variety: string) => data.y.filter((_, plot) => data.variety[plot] === variety);

it("van Elteren's test against R", () => {
  const plots = data.y.map((score, plot) => ({
    score,
    isVariety: data.variety[plot] === "A",
    block: data.block[plot],
  }));
  const { z, p, blocks } = vanElteren(plots);
  agree(z, expected.vanElteren.z);
  agree(p, expected.vanElteren.p);
  expect(blocks).toBe(3);
});

it("in one block is Wilcoxon's rank sum test without continuity correction", () => {
  const plots = data.y.map((score, plot) => ({ score, isVariety: data.variety[plot] === "A", block: "all" }));
  agree(vanElteren(plots).p, expected.wilcoxonP);
});

it("probability of superiority against R's Brunner–Munzel, limits cut to [0, 1]", () => {
  const ours = probabilityOfSuperiority(of("B"), of("A"), 0.95);
  agree(ours.estimate, expected.superiority);
  agree(ours.se, expected.brunnerMunzel.se_p);
  agree(ours.df, expected.brunnerMunzel.df);
  agree(ours.p, expected.brunnerMunzel.p);
  agree(ours.low, expected.brunnerMunzel.lower);
  agree(ours.high, Math.min(1, expected.brunnerMunzel.upper));
});
