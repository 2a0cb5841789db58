import { describe, expect, it } from "vitest";
import { readPlanForm } from "@/app/trials/new/_parts/read-plan-form";

const known = [{ name: "East bed", widthMm: 1_200, lengthMm: 6_000 }];

const typed: Record<string, string> = {
  stage: "first",
  question: " Which mustard stands? ",
  crop: "mustard greens",
  "entries.0.variety": "Hollin",
  "entries.3.variety": "Pennick",
  "entries.3.packetClaim": "Hardy.",
  "beds.known.East bed": "on",
  "rows.newBeds": "2",
  "beds.new.1.name": "West bed",
  "beds.new.1.widthMm": "1,2 m",
  "beds.new.1.lengthMm": "480",
  "covers.0.kind": "fleece",
  sownOn: "14 Aug 2027",
  plantedOn: "18th Sept 2027",
};

describe("the planning form as it was typed", () => {
  it("leaves out empty rows and remembers which field each place came from", () => {
    const { input, faults, fieldOf } = readPlanForm(typed, known);
    expect(faults).toEqual([]);
    expect(input).toMatchObject({
      question: "Which mustard stands?",
      entries: [
        { variety: "Hollin", role: "check", packetClaim: null },
        { variety: "Pennick", role: "entry", packetClaim: "Hardy." },
      ],
      beds: [known[0], { name: "West bed", widthMm: 1_200, lengthMm: 4_800 }],
      covers: [{ kind: "fleece", name: "fleece", fromOn: "2027-09-18", untilOn: null }],
      sownOn: "2027-08-14",
      plantedOn: "2027-09-18",
    });
    expect(fieldOf("entries.1.variety")).toBe("entries.3.variety");
    expect(fieldOf("beds.0.name")).toBe("beds");
    expect(fieldOf("beds.1.widthMm")).toBe("beds.new.1.widthMm");
    expect(fieldOf("entries.check")).toBe("entries.0.variety");
    expect(fieldOf("question")).toBe("question");
  });

  it("names every figure and date that cannot be read, and hands it on as typed", () => {
    const { input, faults } = readPlanForm(
      {
        ...typed,
        stage: "whole",
        sownOn: "31 Sep 2027",
        blocks: "four",
        plantsPerPlot: "1,200",
        betweenPlantsMm: "-25 cm",
        betweenRowsMm: "",
        seed: "7",
        "rule.survivalFloor": "170",
        "rule.sureness": "very",
      },
      known,
    );
    expect(faults.map((fault) => fault.place).sort()).toEqual([
      "betweenPlantsMm",
      "betweenRowsMm",
      "blocks",
      "plantsPerPlot",
      "rule.sureness",
      "rule.survivalFloor",
      "sownOn",
    ]);
    expect(input).toMatchObject({ blocks: "four", sownOn: "31 Sep 2027", seed: 7 });
  });

  it("takes an empty floor as one that does not decide", () => {
    const { input } = readPlanForm(
      {
        ...typed,
        stage: "whole",
        "rule.survivalFloor": "70 %",
        "rule.yieldFloor": " ",
        "rule.sureness": "80",
      },
      known,
    );
    expect(input.rule).toMatchObject({ survivalFloor: 0.7, yieldFloor: null, sureness: 0.8 });
  });
});
