import { describe, expect, it } from "vitest";
import { sayFault } from "@/lib/words/say-fault";

const fault = (found: string, wanted: string) => ({ place: "blocks", found, wanted });

describe("a fault in words", () => {
  it("asks for what is missing", () => {
    expect(sayFault(fault("nothing", "an answer"), "The question", "", "Enter the question")).toBe(
      "Enter the question.",
    );
    expect(sayFault(fault("nothing", "a whole number"), "Blocks", "")).toBe("Blocks: enter a whole number.");
    expect(sayFault(fault("0", "at least 1"), "Bed", "", "Choose a bed")).toBe("Choose a bed.");
  });

  it("quotes what was typed beside what would be right", () => {
    expect(sayFault(fault("four", "a whole number"), "Blocks", " four ")).toBe(
      "Blocks must be a whole number; “four” was typed.",
    );
    expect(sayFault(fault("0", "1 or more"), "Blocks", "0")).toBe("Blocks must be 1 or more; “0” was typed.");
  });

  it("tells what was found where it is more than what was typed", () => {
    expect(sayFault(fault("16 plots need 6 m; this one is 4 m", "3 blocks"), "Blocks", "4")).toBe(
      "Blocks: 16 plots need 6 m; this one is 4 m. What would do: 3 blocks.",
    );
  });

  it("says days as people read them", () => {
    const example = "a date such as 4 Mar 2027 or 2027-03-04";
    expect(sayFault(fault("soon", example), "Sowing date", "soon")).toBe(
      "Sowing date must be a date such as 4 Mar 2027; “soon” was typed.",
    );
    expect(
      sayFault(fault("2027-09-01", "the sowing date, 2027-09-18, or later"), "Planting date", "1 Sep 2027"),
    ).toBe("Planting date: Wed 1 Sep 2027. What would do: the sowing date, Sat 18 Sep 2027, or later.");
  });
});
