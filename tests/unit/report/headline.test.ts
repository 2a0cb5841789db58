import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { headline } from "@/lib/report/headline";
import { plainTextReport } from "@/lib/report/plain-text-report";
import { blocksOf, counted, day, inventedRecord, picked } from "../analysis/invented-record";

const march = day("2027-03-01");
const varieties = ["Pennick", "Hollin", "Carrow"];

function findings(standing: number[][], check: string | null = "Hollin") {
  const facts = standing.flatMap((block, row) =>
    counted(march, Object.fromEntries(block.map((count, place) => [`${"ABCD"[row]}${place + 1}`, count]))),
  );
  const plots = blocksOf(varieties, standing.length, 8);
  return analyseTrial(inventedRecord({ plots, check, facts }), { withoutRedealing: true });
}

describe("the trial's answer in a sentence", () => {
  it("names what stood clearly better and worse, and what is not clear", () => {
    const told = findings([
      [8, 7, 1],
      [8, 8, 0],
      [7, 7, 2],
      [8, 8, 1],
    ]);
    expect(headline(told)).toBe(
      "Carrow stood clearly worse than the check Hollin; no clear difference from it for Pennick.",
    );
  });

  it("says no clear difference, never that there is none", () => {
    const told = findings([
      [8, 7, 6],
      [5, 8, 7],
    ]);
    expect(headline(told)).toBe("No clear difference from the check Hollin for Pennick and Carrow.");
    expect(headline(findings([[8, 7, 6]], null))).toBe("No clear difference between any two varieties.");
    expect(plainTextReport(told)).not.toMatch(/no difference/i);
  });

  it("compares pairs where there is no check", () => {
    const told = findings(
      [
        [8, 8, 1],
        [8, 8, 0],
        [8, 8, 2],
        [8, 8, 1],
      ],
      null,
    );
    expect(headline(told)).toBe("Stood clearly better: Pennick than Carrow and Hollin than Carrow.");
  });

  it("says that a bed in which nothing or everything was lost tells nothing apart", () => {
    expect(headline(findings([[8, 8, 8]]))).toMatch(/^Nothing was lost/);
    expect(headline(findings([[0, 0, 0]]))).toMatch(/^Nothing stood/);
  });

  it("speaks of yield where nothing was told of the plants", () => {
    const plots = blocksOf(varieties, 3, 8);
    const grams = Object.fromEntries(
      plots.map((plot, place) => [plot.id, (plot.variety === "Carrow" ? 10 : 100) + (place % 4)]),
    );
    const told = analyseTrial(inventedRecord({ plots, check: "Hollin", facts: picked(march, grams) }), {
      withoutRedealing: true,
    });
    expect(headline(told)).toBe(
      "Carrow clearly yielded less than the check Hollin; no clear difference from it for Pennick.",
    );
    expect(headline(analyseTrial(inventedRecord({ plots })))).toBe(
      "Nothing has been recorded that tells the varieties apart.",
    );
  });
});
