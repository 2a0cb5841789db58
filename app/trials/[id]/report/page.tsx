import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { Cautions } from "@/app/_ui/cautions";
import { DataTable } from "@/app/_ui/data-table";
import { FigureTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { lossFigure } from "@/lib/figure/loss-figure";
import { mainFigure } from "@/lib/figure/main-figure";
import { survivalDifferenceFigure } from "@/lib/figure/survival-difference-figure";
import { survivalFigure } from "@/lib/figure/survival-figure";
import { yieldFigure } from "@/lib/figure/yield-figure";
import { answerWords } from "@/lib/report/answer-words";
import { allCautions } from "@/lib/report/json-report";
import { methodSources, methodsParagraph } from "@/lib/report/methods-paragraph";
import { plotRows } from "@/lib/report/plot-rows";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import { sentenceForLosses } from "@/lib/report/sentence-for-losses";
import { sentenceForInteractions, sentenceForTreatment } from "@/lib/report/sentence-for-main";
import { sentenceForOwed } from "@/lib/report/sentence-for-season";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { sentenceForYield, sentenceForYieldDifference } from "@/lib/report/sentence-for-yield";
import { sentencesForYieldOfMain } from "@/lib/report/sentence-for-yield-main";
import { summaryText } from "@/lib/report/summary-text";
import { whatWasDone } from "@/lib/report/what-was-done";
import { openHouse } from "@/lib/service/house";
import { type ReportView, reportView } from "@/lib/service/report-view";
import { sayDay } from "@/lib/words/day";
import { factorWords } from "@/lib/words/trial";
import { sayRule } from "../_parts/say-rule";
import { ReportFigure } from "./_parts/report-figure";
import { SummaryToCopy } from "./_parts/summary-to-copy";
import reportStyles from "./report.module.css";

export const metadata: Metadata = { title: "Report" };

/** The trial on two to four pages of paper: question, what was done, the answer, figures, verdicts, methods, the data. */
export default async function ReportPage({ params }: { params: Promise<{ id: string }> }) {
  const view = reportView(openHouse(), (await params).id);
  if (!view) notFound();
  const { garden, trial, findings, verdicts } = view;
  return (
    <div className={reportStyles.report}>
      <p className={reportStyles.made}>
        {garden && `${garden}. `}Report made on {sayDay(trial.today, true)}.
      </p>
      <div className={styles.screenOnly}>
        <p className={styles.soft}>
          Print this page, or save it as a PDF, from the browser’s menu: two to four sheets of A4 or Letter,
          black and white.
        </p>
      </div>
      <Section title="The answer">
        <p>
          <strong>{answerWords(findings)}</strong>
        </p>
        <Cautions cautions={allCautions(findings)} />
      </Section>
      <Section title="What was done">
        {whatWasDone(trial, findings).map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <p>{ruleWords(view)}</p>
      </Section>
      <Stood view={view} />
      <Treated view={view} />
      <Lost view={view} />
      <Yielded view={view} />
      <Verdicts view={view} />
      <Section title="Methods">
        <p>{methodsParagraph(findings)}</p>
        <ul className={reportStyles.sources}>
          {methodSources(findings).map((source) => (
            <li key={source}>{source}</li>
          ))}
        </ul>
      </Section>
      <Appendix view={view} />
      <div className={styles.screenOnly}>
        <Section title="To send">
          <SummaryToCopy
            text={summaryText({ question: trial.question, garden, crop: trial.crop }, findings, verdicts)}
          />
        </Section>
      </div>
    </div>
  );
}

function ruleWords({ trial }: ReportView): string {
  const { rule, rules, decidingAssessment } = trial;
  if (!rule) return "No rule for deciding was set.";
  const changed =
    rules.length > 1
      ? ` It was changed ${rules.length === 2 ? "once" : `${rules.length - 1} times`}: ${rule.reason ?? "no reason given"}.`
      : "";
  return `The rule: ${sayRule(rule, decidingAssessment)}${changed}`;
}

function Stood({ view: { trial, findings } }: { view: ReportView }) {
  const { survival } = findings;
  if (!survival) return null;
  return (
    <Section title="What stood">
      <ul className={styles.lines}>
        {survival.value.varieties.map((variety) => (
          <li key={variety.variety}>{sentenceForVariety(variety)}</li>
        ))}
      </ul>
      <ReportFigure
        draw={(widthPx) =>
          survivalFigure(survival, {
            check: findings.trial.check,
            floor: trial.rule?.survivalFloor ?? null,
            widthPx,
          })
        }
      />
      {findings.trial.check && (
        <>
          <ul className={styles.lines}>
            {survival.value.differences.map((difference) => (
              <li key={difference.variety}>{sentenceForDifference(difference)}</li>
            ))}
          </ul>
          <ReportFigure draw={(widthPx) => survivalDifferenceFigure(survival, { widthPx })} />
        </>
      )}
    </Section>
  );
}

function Treated({ view: { findings } }: { view: ReportView }) {
  const { survival } = findings;
  const main = survival?.value.main;
  if (!survival || !main) return null;
  return (
    <Section title={`What the ${factorWords[main.factor].many} did`}>
      <ul className={styles.lines}>
        {main.treatments.map((share) => (
          <li key={share.treatment}>{sentenceForTreatment(share)}</li>
        ))}
        {main.interactions.length > 0 && <li>{sentenceForInteractions(main)}</li>}
      </ul>
      <ReportFigure draw={(widthPx) => mainFigure(survival, { widthPx })} />
    </Section>
  );
}

function Lost({ view: { findings } }: { view: ReportView }) {
  const { survival, losses } = findings;
  if (!survival || !losses || losses.value.length === 0) return null;
  return (
    <Section title="What was lost">
      <ul className={styles.lines}>
        {survival.value.varieties.map(({ variety }) => (
          <li key={variety}>{sentenceForLosses(variety, losses.value)}</li>
        ))}
      </ul>
      <ReportFigure draw={(widthPx) => lossFigure(losses, survival, { widthPx })} />
    </Section>
  );
}

function Yielded({ view: { findings } }: { view: ReportView }) {
  const harvest = findings.yield;
  if (!harvest) return null;
  const { varieties, differences, main, per, unit } = harvest.value;
  return (
    <Section title="What it yielded">
      <ul className={styles.lines}>
        {varieties.map((mean) => (
          <li key={mean.variety}>{sentenceForYield(mean, per, unit)}</li>
        ))}
        {differences.map((difference) => (
          <li key={`${difference.variety} ${difference.reference}`}>
            {sentenceForYieldDifference(difference, unit)}
          </li>
        ))}
        {main &&
          sentencesForYieldOfMain(main, { per, unit }).map((sentence) => <li key={sentence}>{sentence}</li>)}
      </ul>
      <ReportFigure draw={(widthPx) => yieldFigure(harvest, { check: findings.trial.check, widthPx })} />
    </Section>
  );
}

function Verdicts({ view: { trial, verdicts } }: { view: ReportView }) {
  const judged = new Set(verdicts.map((verdict) => verdict.entryId));
  const owed = trial.entries.filter((entry) => entry.role === "entry" && !judged.has(entry.id)).length;
  return (
    <Section title="Verdicts">
      {verdicts.map((verdict) => (
        <p key={verdict.id} className={reportStyles.whole}>
          <strong>
            {verdict.variety}: {verdict.choice}
          </strong>
          , decided on {sayDay(verdict.decidedOn, true)}
          {verdict.by && ` by ${verdict.by}`}. {verdict.reason}
        </p>
      ))}
      {owed > 0 && <p>{sentenceForOwed(owed)}</p>}
      {verdicts.length + owed === 0 && <p>There is none to give.</p>}
    </Section>
  );
}

function Appendix({ view: { trial, findings } }: { view: ReportView }) {
  const { survival, yield: harvest } = findings;
  const { check } = findings.trial;
  const { headings, rows } = plotRows(findings.plots);
  const numeric = new Set(["set out", "standing", "lost", "yield, g"]);
  const figures = [
    survival && survivalFigure(survival, { check, floor: trial.rule?.survivalFloor ?? null, widthPx: 640 }),
    survival && survivalDifferenceFigure(survival, { widthPx: 640 }),
    harvest && yieldFigure(harvest, { check, widthPx: 640 }),
  ].flatMap((figure) => figure ?? []);
  return (
    <div className={reportStyles.appendix}>
      <Section title="Appendix: the data">
        {figures.map((figure) => (
          <FigureTable key={figure.id} figure={figure} />
        ))}
        <DataTable
          caption={`Every plot${findings.at ? ` as of ${sayDay(findings.at, true)}` : ""}`}
          columns={headings.map((heading) => ({ heading, numeric: numeric.has(heading) }))}
          rows={rows}
        />
      </Section>
    </div>
  );
}
