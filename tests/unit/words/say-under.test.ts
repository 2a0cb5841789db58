import { describe, expect, it } from "vitest";
import { sayLevel, sayUnder } from "@/lib/words/say-under";

describe("what whole main plots were dealt, as part of a sentence", () => {
  it("says the open as the open, however it was called", () => {
    for (const name of ["open ground", "Open", "none", "no cover", "uncovered", "in the open"])
      expect(sayUnder(name)).toBe("in the open");
  });

  it("says what stood over it, and what was left off", () => {
    expect(sayUnder("White fleece")).toBe("under White fleece");
    expect(sayUnder("Long tunnel, White fleece")).toBe("under Long tunnel, White fleece");
    expect(sayUnder("Open-weave net")).toBe("under Open-weave net");
    expect(sayUnder("no net")).toBe("with no net");
    expect(sayUnder("without lights")).toBe("without lights");
  });

  it("says a sowing by its day", () => {
    expect(sayUnder("sown 2026-08-14")).toBe("sown Fri 14 Aug 2026");
    expect(sayUnder("sown early")).toBe("sown early");
    expect(sayUnder("sowing not said")).toBe("of a sowing that was not said");
  });

  it("keeps a cover's own name where no sentence stands about it", () => {
    expect(sayLevel("open ground")).toBe("open ground");
    expect(sayLevel("White fleece")).toBe("White fleece");
    expect(sayLevel("sown 2026-08-14")).toBe("sown Fri 14 Aug 2026");
    expect(sayLevel("sowing not said")).toBe("sowing not said");
  });
});
