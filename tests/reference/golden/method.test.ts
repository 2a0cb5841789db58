import { describe, expect, it } from "vitest";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { Caution, TrialFindings } from "@/lib/analysis/finding";
import { proposalOverWinters } from "@/lib/analysis/over-winters";
import { headline } from "@/lib/report/headline";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import { sentenceForLosses } from "@/lib/report/sentence-for-losses";
import {
  sentenceForInteractions,
  sentenceForTreatment,
  sentenceForTreatments,
} from "@/lib/report/sentence-for-main";
import { sentenceForFloor, sentenceForProposal } from "@/lib/report/sentence-for-proposal";
import { sentenceForTest } from "@/lib/report/sentence-for-test";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { sentenceForYield, sentenceForYieldDifference } from "@/lib/report/sentence-for-yield";
import { sentencesForYieldOfMain } from "@/lib/report/sentence-for-yield-main";
import { sayDay } from "@/lib/words/day";
import { sayP } from "@/lib/words/say-number";
import { type GoldenTrial, goldenTrials } from "./trials";

function beware(cautions: Caution[]): string[] {
  return cautions.map((caution) => `  ! ${caution.text} [${caution.code}]`);
}

/** Everything that the results and the verdict say of a trial, in the order in which they say it. */
function told({ record, earlier = {} }: GoldenTrial): string {
  const findings = analyseTrial(record);
  const { survival, yield: harvest, losses, proposals } = findings;
  const main = survival?.value.main;
  const parts: (string | null)[][] = [
    [
      findings.at && `As of ${sayDay(findings.at, true)}.`,
      headline(findings),
      sentenceForTest(findings),
      ...beware(findings.cautions),
    ],
    survival
      ? [
          `Stood: ${survival.plants} plants in ${survival.plots} plots`,
          ...survival.value.varieties.map((variety) => sentenceForVariety(variety)),
          ...beware(survival.cautions),
        ]
      : [],
    (survival?.value.differences ?? []).map((difference) => {
      const p = difference.p === null ? "" : ` (p by the luck of the draw ${sayP(difference.p)})`;
      return `${sentenceForDifference(difference)}${p}`;
    }),
    main
      ? [
          ...main.treatments.map((share) => sentenceForTreatment(share)),
          ...main.differences.map(sentenceForTreatments),
          sentenceForInteractions(main),
        ]
      : [],
    (losses?.value ?? []).length > 0
      ? (survival?.value.varieties ?? []).map((one) => sentenceForLosses(one.variety, losses?.value ?? []))
      : [],
    harvest
      ? [
          `Yield: ${harvest.scale}, ${harvest.value.model}`,
          ...harvest.value.varieties.map((mean) =>
            sentenceForYield(mean, harvest.value.per, harvest.value.unit),
          ),
          ...beware(harvest.cautions),
          ...harvest.value.differences.map((one) => sentenceForYieldDifference(one, harvest.value.unit)),
          ...(harvest.value.main ? sentencesForYieldOfMain(harvest.value.main, harvest.value) : []),
        ]
      : [],
    boltedOf(findings),
    proposals
      ? [
          "Proposals",
          ...beware(proposals.cautions),
          ...proposals.value.flatMap((one) => {
            const proposal = proposalOverWinters(one, earlier[one.variety] ?? [], proposals.level);
            return [
              sentenceForProposal(proposal),
              ...proposal.floors.map((floor) => `  ${sentenceForFloor(floor)}`),
              ...proposal.reasons.map((reason) => `  ${reason}`),
            ];
          }),
        ]
      : [],
  ];
  return `${parts
    .map((lines) => lines.filter((line) => line !== null && line !== ""))
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join("\n"))
    .join("\n\n")}\n`;
}

function boltedOf({ bolting }: TrialFindings): string[] {
  return (bolting?.value ?? [])
    .filter((one) => one.plotsBolted > 0)
    .map(
      (one) =>
        `${one.variety}: first flower stem on ${one.firstOn ? sayDay(one.firstOn) : "–"}; early in ${one.boltedEarly} of ${one.plots} plots.`,
    );
}

/** Read and judged, each of them; a change to one is read again before it is taken. */
describe("what invented trials are told to have shown", () => {
  for (const trial of goldenTrials)
    it(`stays as it was judged: ${trial.name}`, async () => {
      await expect(told(trial)).toMatchFileSnapshot(`told/${trial.name}.txt`);
    });

  it("never calls an absence of evidence no difference, nor gives stars", () => {
    for (const trial of goldenTrials) {
      const text = told(trial);
      expect(text).not.toMatch(/\bno (real |significant )?difference\b/i);
      expect(text).not.toMatch(/significant|\*/i);
    }
  });
});
