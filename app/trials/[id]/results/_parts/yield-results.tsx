import { Suspense } from "react";
import { Cautions } from "@/app/_ui/cautions";
import { DataTable } from "@/app/_ui/data-table";
import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { anovaRows } from "@/lib/report/anova-rows";
import { harvestRows, pickRows } from "@/lib/report/harvest-rows";
import { sentenceForYield, sentenceForYieldDifference } from "@/lib/report/sentence-for-yield";
import { sentencesForYieldOfMain } from "@/lib/report/sentence-for-yield-main";
import { yieldWorking } from "@/lib/report/working-words";
import type { FindingsQuestion, trialFindings } from "@/lib/service/trial-findings";
import { sayP, sayRounded, saySigned } from "@/lib/words/say-number";
import { sayLevel } from "@/lib/words/say-under";
import { factorWords } from "@/lib/words/trial";
import type { Drawings } from "../drawings";
import { HarvestOverTime } from "./harvest-over-time";
import { LuckOfTheDraw } from "./luck-of-the-draw";
import { Sources } from "./survival-working";

type YieldFinding = NonNullable<NonNullable<ReturnType<typeof trialFindings>>["yield"]>;
type YieldOfMain = NonNullable<YieldFinding["value"]["main"]>;

interface Asked {
  trialId: string;
  findings: NonNullable<ReturnType<typeof trialFindings>>;
  question: FindingsQuestion;
  drawings: Drawings;
  files: (figureId: string) => string;
}

/** Yield: sentences, means with limits, against the check, picks over time, and the working. */
export function YieldResults({ trialId, findings, question, drawings, files }: Asked) {
  const finding = findings.yield;
  if (!finding) return null;
  const { value: analysis } = finding;
  const harvest = harvestRows(analysis.picks);
  const picks = pickRows(analysis.picks);
  return (
    <>
      <Section title="Yield">
        <ul className={styles.lines}>
          {analysis.varieties.map((mean) => (
            <li key={mean.variety}>{sentenceForYield(mean, analysis.per, analysis.unit)}</li>
          ))}
        </ul>
        <Cautions cautions={finding.cautions} />
        <FigureWithTable draw={drawings.yield} files={files} />
        {analysis.differences.length > 0 && (
          <>
            <ul className={styles.lines}>
              {analysis.differences.map((difference) => (
                <li key={difference.variety}>{sentenceForYieldDifference(difference, analysis.unit)}</li>
              ))}
            </ul>
            <FigureWithTable draw={drawings.yieldDifferences} files={files} />
          </>
        )}
        {analysis.main && <YieldOfMainPlots main={analysis.main} finding={finding} />}
        <YieldWorking
          trialId={trialId}
          findings={findings}
          question={question}
          drawings={drawings}
          files={files}
        />
      </Section>
      {analysis.picks.days.length > 1 && (
        <Section title="Harvest over time">
          <HarvestOverTime harvest={harvest} />
          <DataTable
            caption="Grams a plot on each trial pick"
            columns={[
              { heading: "day" },
              ...harvest.varieties.map((heading) => ({ heading, numeric: true })),
            ]}
            rows={harvest.picks.map((pick) => [
              pick.words,
              ...pick.grams.map((grams) => (grams === null ? "not picked" : String(Math.round(grams)))),
            ])}
          />
          <DataTable
            caption="The trial picks of each variety"
            columns={picks.headings.map((heading, place) => ({ heading, numeric: place > 0 }))}
            rows={picks.rows}
          />
        </Section>
      )}
    </>
  );
}

/** What covers, sowings or companions on main plots did to the yield, and every variety under each. */
function YieldOfMainPlots({ main, finding }: { main: YieldOfMain; finding: YieldFinding }) {
  const { one } = factorWords[main.factor];
  const level = Math.round(finding.level * 100);
  const say = (value: number | null, se: number | null) => (value === null ? "–" : sayRounded(value, se));
  return (
    <>
      <h3>Yield by {one}</h3>
      <ul className={styles.lines}>
        {sentencesForYieldOfMain(main, finding.value).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <DataTable
        caption={`Yield in ${finding.scale} of each variety by ${one}: means and ${level} % limits`}
        columns={[
          { heading: one },
          { heading: "variety" },
          { heading: "plots", numeric: true },
          { heading: "mean", numeric: true },
          { heading: "from", numeric: true },
          { heading: "to", numeric: true },
        ]}
        rows={main.cells.map((cell) => [
          sayLevel(cell.treatment),
          cell.variety,
          String(cell.plots),
          ...[cell.mean, cell.low && Math.max(0, cell.low), cell.high].map((value) => say(value, cell.se)),
        ])}
      />
    </>
  );
}

function YieldWorking({ trialId, findings, question, drawings, files }: Asked) {
  const finding = findings.yield;
  if (!finding) return null;
  const { anova, pairs, variance } = finding.value;
  const table = anovaRows(anova);
  return (
    <Working>
      {yieldWorking(finding).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <DataTable
        caption="Analysis of variance"
        columns={table.headings.map((heading, place) => ({ heading, numeric: place > 0 }))}
        rows={table.rows}
      />
      {variance.length > 0 && (
        <DataTable
          caption="Variance components"
          columns={[{ heading: "component" }, { heading: "estimate", numeric: true }]}
          rows={variance.map((part) => [
            part.component,
            part.estimate === null ? (part.reason ?? "–") : String(Number(part.estimate.toPrecision(4))),
          ])}
        />
      )}
      {pairs.length > 0 && (
        <DataTable
          caption={`Every pair, in ${finding.scale}, limits and p for all pairs at once`}
          columns={[
            { heading: "pair" },
            { heading: "difference", numeric: true },
            { heading: "from", numeric: true },
            { heading: "to", numeric: true },
            { heading: "p", numeric: true },
          ]}
          rows={pairs.map((pair) => [
            `${pair.a} − ${pair.b}`,
            ...[pair.estimate, pair.low, pair.high].map((value) =>
              value === null ? "–" : saySigned(value, pair.se),
            ),
            pair.p === null ? "–" : sayP(pair.p),
          ])}
        />
      )}
      <Suspense fallback={<p>The layout is being dealt again, some thousands of times.</p>}>
        <LuckOfTheDraw
          trialId={trialId}
          question={question}
          of="yield"
          effectHeading={`difference, ${finding.scale}`}
        />
      </Suspense>
      <FigureWithTable draw={drawings.residuals} files={files} />
      <Sources sources={finding.method.sources} />
    </Working>
  );
}
