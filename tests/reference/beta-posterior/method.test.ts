import { describe, it } from "vitest";
import { betaCdf, betaQuantile, betaUpper } from "@/lib/statistics/beta";
import { jeffreysInterval } from "@/lib/statistics/jeffreys-interval";
import { agreement } from "../agreement";
import reference from "./case.json";

const { agree } = agreement("beta posterior", reference.tolerance);
const [{ data, expected }] = reference.cases;

describe("posteriors of shares against R", () => {
  it.each(["two", "three", "orob"] as const)("%s", (name) => {
    for (const prior of [expected.uniform_prior, expected.jeffreys_prior]) {
      const { posterior_a: a, posterior_b: b, ...theirs } = prior[name];
      for (const at of a.keys()) {
        agree(betaQuantile(0.025, a[at], b[at]), theirs.ci95_lower[at]);
        agree(betaQuantile(0.5, a[at], b[at]), theirs.median[at]);
        agree(betaQuantile(0.975, a[at], b[at]), theirs.ci95_upper[at]);
        agree(betaUpper(theirs.ci95_upper[at], a[at], b[at]), 0.025);
        agree(betaCdf(theirs.median[at], a[at], b[at]), 0.5);
      }
    }
    for (const [at, { x, n }] of data[name].entries()) {
      const { low, high } = jeffreysInterval(x, n, 0.95);
      agree(low, expected.jeffreys_prior[name].ci95_lower[at]);
      agree(high, expected.jeffreys_prior[name].ci95_upper[at]);
    }
  });
});
