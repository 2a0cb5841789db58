import { describe, expect, it } from "vitest";
import { sayLayoutReach, saySmallestPLimit } from "@/lib/words/say-layout-reach";

describe("what is said of the smallest p of a layout", () => {
  it("says that it cannot only where the counted p is the very smallest", () => {
    expect(sayLayoutReach(3)).toContain("cannot reach 1 in 20");
    expect(saySmallestPLimit(3)).toBe("");
    // Four varieties in two blocks, all pairs: 0.042 by enumeration where counting says 0.083.
    expect(sayLayoutReach(4)).toContain("can hardly reach 1 in 20");
    expect(saySmallestPLimit(4)).toContain("somewhat below");
  });
});
