import { expect, it } from "vitest";
import { rateLimit } from "@/lib/command/rate";

it("lets a burst through, then so many a second", () => {
  const may = rateLimit({ perSecond: 2, burst: 3 });
  expect([may("a", 0), may("a", 0), may("a", 0), may("a", 0)]).toEqual([true, true, true, false]);
  expect([may("a", 500), may("a", 500)]).toEqual([true, false]);
  expect([may("a", 1_000), may("a", 1_499)]).toEqual([true, false]);
});

it("never saves up more than the burst", () => {
  const may = rateLimit({ perSecond: 100, burst: 2 });
  may("a", 0);
  expect([may("a", 1e9), may("a", 1e9), may("a", 1e9)]).toEqual([true, true, false]);
});

it("counts each caller apart", () => {
  const may = rateLimit({ perSecond: 1, burst: 1 });
  expect([may("a", 0), may("b", 0), may("a", 0), may("b", 0)]).toEqual([true, true, false, false]);
});

it("takes a clock that goes back for one that stands still", () => {
  const may = rateLimit({ perSecond: 1, burst: 1 });
  expect([may("a", 5_000), may("a", 0), may("a", 500)]).toEqual([true, false, false]);
});
