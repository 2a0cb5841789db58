import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { answerWords } from "@/lib/report/answer-words";
import { headline } from "@/lib/report/headline";
import { methodSources, methodsParagraph } from "@/lib/report/methods-paragraph";
import { plotRows } from "@/lib/report/plot-rows";
import { sentenceForTreatments } from "@/lib/report/sentence-for-main";
import { summaryText } from "@/lib/report/summary-text";
import { type DoneTrial, whatWasDone } from "@/lib/report/what-was-done";
import type { Day } from "@/lib/words/day";
import { exampleSplit } from "../../figures/example-findings";
import { blocksOf, counted, day, inventedRecord, picked } from "../analysis/invented-record";

const march = day("2027-03-01");
const plots = blocksOf(["Pennick", "Hollin"], 3, 8);
const findings = analyseTrial(
  inventedRecord({
    plots,
    check: "Pennick",
    facts: [
      ...counted(march, { A1: 8, A2: 5, B1: 7, B2: 4, C1: 8, C2: 6 }),
      ...picked(march, { A1: 90, A2: 60, B1: 100, B2: 64, C1: 95, C2: 71 }),
    ],
  }),
  { withoutRedealing: true },
);
const nothing = analyseTrial(inventedRecord({ plots }), { withoutRedealing: true });

const done: DoneTrial = {
  crop: "mustard greens",
  purpose: "winter leaf",
  design: "rcbd",
  seed: 7,
  blocks: 3,
  plantsPerPlot: 8,
  betweenPlantsMm: 300,
  betweenRowsMm: 250,
  sownOn: "2026-08-10" as Day,
  plantedOn: "2026-09-10" as Day,
  beds: [{ name: "East bed" }, { name: "West bed" }],
  levels: [],
  covers: [{ name: "Long tunnel", kind: "low tunnel", fromOn: "2026-11-01" as Day, untilOn: null }],
  entries: [
    { variety: "Pennick", role: "check" },
    { variety: "Hollin", role: "entry" },
  ],
  plots,
  pickingRule: "Outer leaves",
};

describe("the parts of a report", () => {
  it("answer on covers beside varieties where covers were dealt to main plots", () => {
    const fleece = { a: "fleece", b: "open ground", estimate: 0.3, low: 0.1, high: 0.45 };
    const main = exampleSplit.value.main as NonNullable<typeof exampleSplit.value.main>;
    const value = { ...exampleSplit.value, main: { ...main, differences: [fleece] } };
    const split = { ...findings, survival: { ...exampleSplit, value } };
    expect(answerWords(split)).toBe(`${headline(split)} ${sentenceForTreatments(fleece)}`);
    expect(answerWords(findings)).toBe(headline(findings));
  });

  it("say what was done, when, under what and how it was looked at", () => {
    expect(whatWasDone(done, findings)).toEqual([
      "Two varieties of mustard greens as winter leaf: Pennick (the check) and Hollin.",
      "Laid out in blocks: 3 blocks, 6 plots of 8 plants, dealt to their places by lot (seed 7), in East bed and West bed; plants 30 cm apart in rows 25 cm apart.",
      "Sown Mon 10 Aug 2026, planted out Thu 10 Sep 2026. Over it: Long tunnel (low tunnel) from Sun 1 Nov 2026 on.",
      expect.stringMatching(
        /Every plot was picked on 1 day, the last Mon 1 Mar 2027\. The figures are those of Mon 1 Mar 2027\.$/,
      ),
      "The picking rule: Outer leaves.",
    ]);
    expect(whatWasDone({ ...done, covers: [], pickingRule: "" }, nothing).at(-1)).toBe(
      "It has not been looked at yet.",
    );
  });

  it("name the methods in a paragraph, with each source once", () => {
    expect(methodsParagraph(findings)).toMatch(
      /effective plants.*own, of published parts.*over 1 pick of every plot/s,
    );
    expect(methodsParagraph(nothing)).not.toMatch(/Wilson|Yield/);
    const sources = methodSources(findings);
    expect(new Set(sources).size).toBe(sources.length);
    expect(sources.join(" ")).toMatch(/Wilson \(1927\)/);
  });

  it("list every plot, with a dash for what is not known and never a nought", () => {
    expect(plotRows(findings.plots).rows[1]).toEqual(["A2", "1", "Hollin", "8", "5", "3", "60", ""]);
    expect(plotRows(nothing.plots).rows[1]).toEqual(["A2", "1", "Hollin", "8", "–", "–", "–", ""]);
    const left = { ...findings.plots[0], leftOn: march };
    expect(plotRows([left]).rows[0].at(-1)).toBe("left the trial Mon 1 Mar");
  });

  it("fit into a message: question, answer, a line a variety, verdicts, what to beware of", () => {
    const text = summaryText({ question: "Which stand?", garden: "Hazel Clough", crop: "kale" }, findings, [
      { variety: "Hollin", choice: "drop" },
    ]);
    const [question, where, answer, ...rest] = text.split("\n\n");
    expect([question, where]).toEqual(["Which stand?", "Hazel Clough, kale, as of Mon 1 Mar 2027."]);
    expect(answer).toMatch(/the check Pennick/);
    expect(rest.join("\n")).toMatch(/^- Pennick: 23 of 24 stood.*\n- Hollin: 15 of 24 stood/);
    expect(text).toMatch(/Drop: Hollin\.\n\nBeware: /);
    expect(text.length).toBeLessThan(1_500);
    expect(text).not.toMatch(/no difference/i);
  });
});
