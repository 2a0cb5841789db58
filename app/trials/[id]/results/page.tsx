import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { Suspense } from "react";
import { SendButton } from "@/app/_ui/button";
import { Cautions } from "@/app/_ui/cautions";
import { DataTable } from "@/app/_ui/data-table";
import { SelectField } from "@/app/_ui/field";
import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { lossFigure } from "@/lib/figure/loss-figure";
import { standingFigure } from "@/lib/figure/standing-figure";
import { survivalDifferenceFigure } from "@/lib/figure/survival-difference-figure";
import { survivalFigure } from "@/lib/figure/survival-figure";
import { headline } from "@/lib/report/headline";
import { lossRows } from "@/lib/report/loss-rows";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import { sentenceForLosses } from "@/lib/report/sentence-for-losses";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { meanDaysRows, stretchRows } from "@/lib/report/standing-rows";
import { openHouse } from "@/lib/service/house";
import { type FindingsQuestion, trialFindings } from "@/lib/service/trial-findings";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { type Day, isDay, sayDay } from "@/lib/words/day";
import { BedResults } from "./_parts/bed-results";
import { LuckOfTheDraw } from "./_parts/luck-of-the-draw";
import { MainResults } from "./_parts/main-results";
import { Sources, SurvivalWorking } from "./_parts/survival-working";
import { TraitResults } from "./_parts/trait-results";
import { YieldResults } from "./_parts/yield-results";

export const metadata: Metadata = { title: "Results" };

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

const perChoices = [
  { value: "plant", words: "per plant set out" },
  { value: "m2", words: "per square metre" },
  { value: "standing", words: "per plant standing" },
  { value: "plot", words: "per plot" },
] as const;
type Per = (typeof perChoices)[number]["value"];

function asked(search: Record<string, string | string[] | undefined>): { at: Day | null; per: Per } {
  const at = typeof search.at === "string" && isDay(search.at) ? search.at : null;
  const per = perChoices.find((choice) => choice.value === search.per)?.value ?? "plant";
  return { at, per };
}

/** What the bed proved, and what it did not: words first, figures beside them, tables beneath, the working behind. */
export default async function ResultsPage({
  params,
  searchParams,
}: {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}) {
  const { id } = await params;
  const { at, per } = asked(await searchParams);
  const house = openHouse();
  const trial = trialView(house, id);
  const question: FindingsQuestion = { ...(at && { at }), yieldPer: per };
  const findings = trialFindings(house, id, question);
  if (!trial || !findings) notFound();
  return (
    <>
      <Section title="What the bed says">
        <p>
          {findings.at && <>As of {sayDay(findings.at, true)}. </>}
          {headline(findings)}
        </p>
        <Cautions cautions={findings.cautions} />
        <Choices trial={trial} findings={findings} at={at} per={per} />
      </Section>
      <Standing trial={trial} findings={findings} />
      <AgainstCheck trial={trial} findings={findings} question={question} />
      <MainResults findings={findings} />
      <Losses findings={findings} />
      <OverTime findings={findings} />
      <YieldResults trialId={id} findings={findings} question={question} />
      <TraitResults findings={findings} />
      <BedResults trial={trial} findings={findings} />
    </>
  );
}

/** Another day or another measure of yield; the address keeps the choice, so that it can be sent on. */
function Choices({
  trial,
  findings,
  at,
  per,
}: {
  trial: TrialView;
  findings: Findings;
  at: Day | null;
  per: Per;
}) {
  const looked = findings.standing?.value.flatMap((curve) => curve.steps.map((step) => step.day)) ?? [];
  const days = [...new Set([...looked, ...(findings.at ? [findings.at] : []), ...(at ? [at] : [])])].sort();
  if (days.length === 0) return null;
  return (
    <form className={`${styles.acts} ${styles.screenOnly}`} action={`/trials/${trial.id}/results`}>
      <SelectField
        name="at"
        label="As of"
        faults={[]}
        value={at ?? ""}
        options={[
          { value: "", words: "the day that decides" },
          ...days.map((day) => ({ value: day, words: sayDay(day, true) })),
        ]}
      />
      <SelectField name="per" label="Yield" faults={[]} value={per} options={perChoices} />
      <SendButton>Show</SendButton>
    </form>
  );
}

function Standing({ trial, findings }: { trial: TrialView; findings: Findings }) {
  const { survival, took, wintered } = findings;
  if (!survival) return null;
  const { check } = findings.trial;
  const floor = trial.rule?.survivalFloor ?? null;
  const steps = [took, wintered].filter((step) => step !== null);
  return (
    <Section title="What stood">
      <ul className={styles.lines}>
        {survival.value.varieties.map((variety) => (
          <li key={variety.variety}>{sentenceForVariety(variety)}</li>
        ))}
      </ul>
      <Cautions cautions={survival.cautions} />
      <FigureWithTable draw={(widthPx) => survivalFigure(survival, { check, floor, widthPx })} />
      {steps.length > 0 && (
        <Working summary="In two steps: what took, and what wintered of that">
          {steps.map((step) => (
            <div key={step.value.step}>
              <ul className={styles.lines}>
                {step.value.varieties.map((variety) => (
                  <li key={variety.variety}>{sentenceForVariety(variety, step.value.step)}</li>
                ))}
              </ul>
              <FigureWithTable draw={(widthPx) => survivalFigure(step, { check, floor: null, widthPx })} />
            </div>
          ))}
        </Working>
      )}
      <SurvivalWorking finding={survival} />
    </Section>
  );
}

function AgainstCheck({
  trial,
  findings,
  question,
}: {
  trial: TrialView;
  findings: Findings;
  question: FindingsQuestion;
}) {
  const { survival } = findings;
  if (!survival || survival.value.differences.length === 0) return null;
  return (
    <Section title={findings.trial.check ? "Against the check" : "Against each other"}>
      <ul className={styles.lines}>
        {survival.value.differences.map((difference) => (
          <li key={`${difference.variety} ${difference.reference}`}>{sentenceForDifference(difference)}</li>
        ))}
      </ul>
      <FigureWithTable draw={(widthPx) => survivalDifferenceFigure(survival, { widthPx })} />
      <Working>
        <Suspense fallback={<p>The layout is being dealt again, some thousands of times.</p>}>
          <LuckOfTheDraw
            trialId={trial.id}
            question={question}
            of="survival"
            effectHeading="difference in a hundred"
          />
        </Suspense>
      </Working>
    </Section>
  );
}

function Losses({ findings }: { findings: Findings }) {
  const { survival, losses } = findings;
  if (!survival || !losses || losses.value.length === 0) return null;
  const shares = lossRows(losses.value);
  return (
    <Section title="What was lost">
      <ul className={styles.lines}>
        {survival.value.varieties.map((variety) => (
          <li key={variety.variety}>{sentenceForLosses(variety.variety, losses.value)}</li>
        ))}
      </ul>
      <FigureWithTable draw={(widthPx) => lossFigure(losses, survival, { widthPx })} />
      <Working>
        <DataTable
          caption={`Share of the plants set out that was lost to each cause, with ${Math.round(losses.level * 100)} % limits`}
          columns={shares.headings.map((heading, place) => ({ heading, numeric: place > 1 }))}
          rows={shares.rows}
        />
        <p>Limits are Wilson’s at the effective plants of the variety’s survival.</p>
        <Sources sources={losses.method.sources} />
      </Working>
    </Section>
  );
}

function OverTime({ findings }: { findings: Findings }) {
  const { standing } = findings;
  if (!standing) return null;
  const mean = meanDaysRows(standing.value);
  const stretches = stretchRows(standing.value);
  return (
    <Section title="Standing over time">
      <p>
        Each step is a walkabout that found plants gone; the band is how far the figure can be trusted, and
        the numbers beneath are the plants still watched.
      </p>
      <FigureWithTable
        draw={(widthPx) => standingFigure(standing, { check: findings.trial.check, widthPx })}
      />
      <Working>
        <p>
          A loss counts on the day on which it was seen. Limits at each walkabout are made as those of the
          headline: by effective plants, from the scatter of the plots on that day.
        </p>
        <DataTable
          caption="Mean days standing from the first day to the last"
          columns={mean.headings.map((heading, place) => ({ heading, numeric: place > 0 }))}
          rows={mean.rows}
        />
        {stretches.rows.length > 0 && (
          <DataTable
            caption="Plots were looked at on different days: losses lie between these"
            columns={stretches.headings.map((heading, place) => ({ heading, numeric: place > 2 }))}
            rows={stretches.rows}
          />
        )}
        <Sources sources={standing.method.sources} />
      </Working>
    </Section>
  );
}
