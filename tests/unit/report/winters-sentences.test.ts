import { describe, expect, it } from "vitest";
import { manyWinters as manyWintersAfresh } from "@/lib/analysis/many-winters";
import type { VarietyInTrial } from "@/lib/analysis/variety-in-trial";
import {
  claimBesideProof,
  contrastWorking,
  sayProof,
  sayTested,
  sayWintersKind,
  sentenceForAnother,
  sentenceForAnotherFloor,
  sentenceForDifferences,
  sentenceForLossesOver,
  sentenceForStems,
  sentenceForTypical,
  sentenceForWinter,
  sentenceForWinterDifference,
  sentenceForYieldOverWinters,
} from "@/lib/report/sentence-for-winters";
import { keptPooledSurvival } from "@/lib/service/kept-pooled-survival";
import type { Day } from "@/lib/words/day";
import { inWinter } from "../analysis/invented-winters";

/** Pooled once for the same winters. */
const manyWinters = (variety: string, trials: VarietyInTrial[]) =>
  manyWintersAfresh(variety, trials, { pool: keptPooledSurvival });

const both = () =>
  manyWinters("Hollin", [
    inWinter("2025/26", { estimate: 0.5, effectivePlants: 20 }),
    inWinter("2026/27", { estimate: 0.3, effectivePlants: 20, ratio: [0.9, 0.6, 1.35] }),
  ])[0].value;
const one = () => manyWinters("Hollin", [inWinter("2025/26", { estimate: 0.75 })])[0].value;

describe("a variety over winters in words", () => {
  it("sets the packet's claim beside the proof, whatever there is of it", () => {
    expect(claimBesideProof("Stands any winter.", [both().proof])).toMatch(
      /^Says: “Stands any winter”\. Here: \d\d %, \d\d to \d\d, two winters, under low tunnel\.$/,
    );
    expect(claimBesideProof(null, [one().proof])).toBe(
      "The packet claims nothing. Here: 75 %, 55 to 90, one winter, under low tunnel.",
    );
    expect(claimBesideProof("Hardy.", [])).toBe("Says: “Hardy”. Here: no trial yet.");
    const [soFar] = manyWinters("Hollin", [inWinter("2026/27", { share: { state: "so far" } })]);
    expect(claimBesideProof("Hardy.", [soFar.value.proof])).toBe(
      "Says: “Hardy”. Here: in its first trial, nothing decided yet.",
    );
    const [lookSee] = manyWinters("Hollin", [inWinter("2026/27", { share: { state: "look-see" } })]);
    expect(sayProof(lookSee.value.proof)).toBe("a look-see bed only, which proves nothing yet");
  });

  it("says beside the figure that no winter has tested it", () => {
    const [mild] = manyWinters("Hollin", [inWinter("2025/26", { share: { tested: false } })]);
    expect(sayProof(mild.value.proof)).toMatch(/, one winter that was no test$/);
  });

  it("tells every kind of cover apart in the claim's line", () => {
    const found = manyWinters("Hollin", [
      inWinter("2025/26"),
      inWinter("2026/27", { share: { coverKinds: [] } }),
    ]).map(({ value }) => value.proof);
    expect(claimBesideProof(null, found)).toMatch(/, in the open; .*, under low tunnel\.$/);
  });

  it("says what one winter is worth, and pools two", () => {
    expect(sentenceForTypical(one())).toBe("2025/26 is the only winter that counts so far.");
    expect(sentenceForAnother(one())).toMatch(
      /How far winters lie apart is assumed, since there has been one\.$/,
    );
    expect(sentenceForTypical(both())).toMatch(
      /^Over two winters together, about \d\d in a hundred stand in a typical winter, somewhere between \d\d and \d\d\.$/,
    );
    expect(sayProof(both().proof)).toMatch(/, two winters$/);
  });

  it("says how surely another winter comes to the floor in the one set of words", () => {
    expect(sentenceForAnotherFloor(0.6, 0.24, 2, { isOverWinter: true })).toBe(
      "In another winter the survival floor of 60 in a hundred is probably missed (met 24 times in 100), going by two winters.",
    );
  });

  it("tells each winter with its day, and why one does not count", () => {
    const [line] = one().lines;
    expect(sentenceForWinter(line)).toBe(
      "2025/26 as of Sat 28 Mar 2026: 18 of 24 stood; somewhere between 55 and 90 in a hundred would in this bed.",
    );
    expect(sentenceForWinter({ ...line, state: "so far" })).toMatch(/it does not count yet\.$/);
    expect(sentenceForWinter({ ...line, state: "look-see" })).toMatch(/look-see bed: shown, not counted\.$/);
    expect(sentenceForWinter({ ...line, state: "no plants", share: null })).toBe(
      "2025/26: no plants to judge by.",
    );
    expect(sentenceForWinter({ ...line, state: "not planted" })).toBe(
      "2025/26: nothing has been recorded yet (planting out: Sat 20 Sep 2025).",
    );
  });

  it("says of each winter whether it tested, and of a running one only what is so so far", () => {
    const [line] = one().lines;
    expect(sayTested(line)).toBe("yes");
    expect(sayTested({ ...line, tested: false })).toBe("no: the tender check stood");
    expect(sayTested({ ...line, tested: false, state: "so far" })).toBe("not so far");
    expect(sayTested({ ...line, tested: null })).toBe("not known");
    expect(sayTested({ ...line, trial: { ...line.trial, isOverWinter: false } })).toBe("–");
  });

  it("counts in how many winters it stood clearly better or worse, never that there is no difference", () => {
    const value = manyWinters("Hollin", [
      inWinter("2025/26", { estimate: 0.2 }),
      inWinter("2026/27", { estimate: 0.7 }),
    ])[0].value;
    expect(sentenceForDifferences(value)).toBe(
      "Against Pennick, of two winters: clearly worse in one and no clear difference in one.",
    );
    expect(sentenceForDifferences(one())).toBeNull();
    expect(sentenceForWinterDifference(value.lines[1])).toMatch(/^2026\/27: No clear difference between/);
  });

  it("pools yields in words, and says what one winter leaves open", () => {
    expect(sentenceForYieldOverWinters("Hollin", both().yields[0], both().kind)).toMatch(
      /^No clear difference in yield between Hollin and Pennick over two winters: \d\.\d\d times as much, somewhere between/,
    );
    expect(sentenceForYieldOverWinters("Hollin", one().yields[0], one().kind)).toMatch(
      /^2025\/26 is the only winter with a yield to set beside Pennick; in another/,
    );
    expect(contrastWorking(both().yields[0]).join(" ")).toMatch(
      /Hartung–Knapp.*Q = .* on 1, I² = \d+ %.*fewer than five winters/s,
    );
  });

  it("speaks of seasons where no winter lay within, and names what winters have in common", () => {
    const found = manyWinters("Hollin", [
      inWinter("2025/26", { trial: { isOverWinter: false }, share: { coverKinds: [] } }),
    ])[0];
    expect(sayWintersKind(found.value.kind)).toBe("Not through a winter, in the open, judged at “regrowth”");
    expect(sayProof(found.value.proof)).toMatch(/, one season$/);
    expect(found.cautions.map((one) => one.code)).toEqual(["one-winter"]);
  });

  it("adds up what was lost over trials, and tells stems with their days", () => {
    const told = inWinter("2025/26");
    expect(sentenceForLossesOver([told, told])).toBe("Lost 14 of 48 plants set out: cold 14.");
    expect(sentenceForLossesOver([{ ...told, losses: [] }])).toBe("None of 24 plants set out was lost.");
    expect(sentenceForLossesOver([])).toBeNull();
    const stems = {
      variety: "Hollin",
      plots: 4,
      plotsBolted: 3,
      firstOn: "2026-04-20" as Day,
      boltedEarly: 1,
    };
    expect(sentenceForStems({ ...told, bolting: stems })).toBe(
      "2025/26: first flower stem on Mon 20 Apr 2026, 212 days after planting out, in 3 of 4 plots; 1 of them before the bed was wanted.",
    );
    expect(sentenceForStems({ ...told, bolting: { ...stems, firstOn: null, plotsBolted: 0 } })).toBe(
      "2025/26: no flower stem was counted in its 4 plots.",
    );
  });
});
