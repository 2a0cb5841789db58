import type { Metadata } from "next";
import Link from "next/link";
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
import { answerWords } from "@/lib/report/answer-words";
import { coldRows } from "@/lib/report/cold-rows";
import { lossRows } from "@/lib/report/loss-rows";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import { sentenceForLosses } from "@/lib/report/sentence-for-losses";
import { sentenceForStillToCome, sentenceForTest } from "@/lib/report/sentence-for-test";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { meanDaysRows, stretchRows } from "@/lib/report/standing-rows";
import { type ColdNights, coldNights } from "@/lib/service/cold-nights";
import { openHouse } from "@/lib/service/house";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { findingsInTurn } from "@/lib/service/whole-findings";
import { sayDay } from "@/lib/words/day";
import { sayLevel } from "@/lib/words/say-under";
import type { MainFactor } from "@/lib/words/trial";
import { BedResults } from "./_parts/bed-results";
import { LuckOfTheDraw } from "./_parts/luck-of-the-draw";
import { MainResults } from "./_parts/main-results";
import { Sources, SurvivalWorking } from "./_parts/survival-working";
import { TraitResults } from "./_parts/trait-results";
import { YieldResults } from "./_parts/yield-results";
import { addressOf, askedOf, perChoices, type ResultsAsked } from "./asked";
import { type Drawings, drawingsOf, figureFiles } from "./drawings";

export const metadata: Metadata = { title: "Results" };

type Findings = NonNullable<Awaited<ReturnType<typeof findingsInTurn>>>;

/** What the bed proved, and what it did not: words first, figures beside them, tables beneath, the working behind. */
export default async function ResultsPage({
  params,
  searchParams,
}: {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}) {
  const { id } = await params;
  const search = await searchParams;
  const house = openHouse();
  const trial = trialView(house, id);
  if (!trial) notFound();
  const question = askedOf(
    (name) => {
      const value = search[name];
      return typeof value === "string" ? value : null;
    },
    trial.plots.map((plot) => plot.code),
  );
  const findings = await findingsInTurn(house, id, question);
  if (!findings) notFound();
  const cold = coldNights(house, findings);
  const drawings = drawingsOf(trial, findings, question, cold);
  const files = figureFiles(id, question);
  return (
    <>
      <Section title="What the bed says">
        {question.leavingOut && <LeftOut trial={trial} question={question} code={question.leavingOut} />}
        <p>
          {findings.at && <>As of {sayDay(findings.at, true)}: </>}
          {answerWords(findings)}
          {sentenceForTest(findings) && <> {sentenceForTest(findings)}</>}
        </p>
        <StillToCome trial={trial} />
        <Cautions cautions={findings.cautions} />
        <Choices trial={trial} findings={findings} question={question} />
        <HowToRead findings={findings} />
      </Section>
      <Standing findings={findings} drawings={drawings} files={files} />
      <AgainstCheck
        trial={trial}
        findings={findings}
        question={question}
        draw={drawings.differences}
        files={files}
      />
      <MainResults findings={findings} under={question.under ?? null} draw={drawings.main} files={files} />
      <Losses findings={findings} draw={drawings.losses} files={files} />
      <OverTime findings={findings} cold={cold} draw={drawings.standing} files={files} />
      <YieldResults trialId={id} findings={findings} question={question} drawings={drawings} files={files} />
      <TraitResults findings={findings} />
      <BedResults findings={findings} draws={drawings.beds} files={files} />
      {(findings.survival || findings.yield) && (
        <Section title="Work it out again">
          <p>
            <a href={`/trials/${id}/results/r-script${addressOf(question)}`}>The R script</a> holds these
            plots and works the figures out again, by R’s own models where it has them; it prints its figures
            beside those on this page. What comes of dealing the layout again, scores and counts are not in
            it.
          </p>
        </Section>
      )}
    </>
  );
}

/** Said before everything else, since nothing on the page is the whole trial's then. */
function LeftOut({ trial, question, code }: { trial: TrialView; question: ResultsAsked; code: string }) {
  const plot = trial.plots.find((one) => one.code === code);
  const variety = trial.entries.find((entry) => entry.id === plot?.entryId)?.variety;
  return (
    <div className={styles.caution} role="note">
      <p>
        <strong>
          Plot {code}
          {variety && ` (${variety})`} is left out.
        </strong>{" "}
        This shows how far the answer hangs on it; it is not the trial’s answer. No verdict is proposed from
        it.{" "}
        <Link href={`/trials/${trial.id}/results${addressOf({ ...question, leavingOut: undefined })}`}>
          Back to the whole trial
        </Link>
      </p>
    </div>
  );
}

/** What the winter may still bring, while the trial runs. */
function StillToCome({ trial }: { trial: TrialView }) {
  const told = sentenceForStillToCome(trial);
  return told ? <p className={styles.soft}>{told}</p> : null;
}

/** How the choice among what main plots were dealt is put. */
const mainChoices: Record<MainFactor, { label: string; all: string }> = {
  cover: { label: "Under", all: "every cover" },
  sowing: { label: "Sown", all: "on every date" },
  companion: { label: "Grown", all: "with and without" },
};

/** Another day, another measure of yield, or a plot left out; the address keeps the choice, so that it can be sent on. */
function Choices({
  trial,
  findings,
  question,
}: {
  trial: TrialView;
  findings: Findings;
  question: ResultsAsked;
}) {
  const { at, yieldPer, leavingOut, under } = question;
  const main = findings.survival?.value.main;
  const looked = findings.standing?.value.flatMap((curve) => curve.steps.map((step) => step.day)) ?? [];
  const days = [...new Set([...looked, ...(findings.at ? [findings.at] : []), ...(at ? [at] : [])])].sort();
  if (days.length === 0) return null;
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
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
      <SelectField name="per" label="Yield" faults={[]} value={yieldPer ?? "plant"} options={perChoices} />
      {main && (
        <SelectField
          name="under"
          label={mainChoices[main.factor].label}
          faults={[]}
          value={under ?? ""}
          options={[
            { value: "", words: mainChoices[main.factor].all },
            ...main.treatments.map(({ treatment }) => ({ value: treatment, words: sayLevel(treatment) })),
          ]}
        />
      )}
      <SelectField
        name="without"
        label="Plots"
        faults={[]}
        value={leavingOut ?? ""}
        options={[
          { value: "", words: "all of them" },
          ...trial.plots.map((plot) => ({
            value: plot.code,
            words: `without ${plot.code}, ${varieties.get(plot.entryId) ?? ""}`,
          })),
        ]}
      />
      <SendButton>Show</SendButton>
    </form>
  );
}

/** What the words mean that come again and again below, said once. */
function HowToRead({ findings }: { findings: Findings }) {
  const level = (findings.survival ?? findings.yield)?.level;
  if (level === undefined) return null;
  return (
    <Working summary="What “clearly” and “somewhere between” mean here">
      <p>
        “Somewhere between” gives {Math.round(level * 100)} % limits: made in this way, they hold the true
        figure about {Math.round(level * 20)} times in 20. “Clearly” is said of a difference whose limits lie
        wholly on one side. “No clear difference” is not proof that there is none: it says how large one may
        still be.
      </p>
      <p>
        All of it is of this bed and these months. Another bed or another winter may tell otherwise, and the
        limits do not hold that.
      </p>
    </Working>
  );
}

interface Shown {
  findings: Findings;
  draw: Drawings["survival"];
  files: (figureId: string) => string;
}

function Standing({ findings, drawings, files }: Pick<Shown, "findings" | "files"> & { drawings: Drawings }) {
  const { survival, took, wintered } = findings;
  if (!survival) return null;
  const steps = [took, wintered].filter((step) => step !== null);
  return (
    <Section title="What stood">
      <ul className={styles.lines}>
        {survival.value.varieties.map((variety) => (
          <li key={variety.variety}>{sentenceForVariety(variety)}</li>
        ))}
      </ul>
      <Cautions cautions={survival.cautions} />
      <FigureWithTable draw={drawings.survival} files={files} />
      {steps.length > 0 && (
        <Working summary="In two steps: what took, and what wintered of that">
          {steps.map((step, place) => (
            <div key={step.value.step}>
              <ul className={styles.lines}>
                {step.value.varieties.map((variety) => (
                  <li key={variety.variety}>{sentenceForVariety(variety, step.value.step)}</li>
                ))}
              </ul>
              <FigureWithTable draw={drawings.steps[place]} files={files} />
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
  draw,
  files,
}: Shown & { trial: TrialView; question: ResultsAsked }) {
  const { survival } = findings;
  if (!survival || survival.value.differences.length === 0) return null;
  return (
    <Section title={findings.trial.check ? "Against the check" : "Against each other"}>
      <ul className={styles.lines}>
        {survival.value.differences.map((difference) => (
          <li key={`${difference.variety} ${difference.reference}`}>{sentenceForDifference(difference)}</li>
        ))}
      </ul>
      <FigureWithTable draw={draw} files={files} />
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

function Losses({ findings, draw, files }: Shown) {
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
      <FigureWithTable draw={draw} files={files} />
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

function OverTime({ findings, cold, draw, files }: Shown & { cold: ColdNights | null }) {
  const { standing } = findings;
  if (!standing) return null;
  const mean = meanDaysRows(standing.value);
  const stretches = stretchRows(standing.value);
  const frosts = cold && coldRows(cold.betweenLooks);
  return (
    <Section title="Standing over time">
      <p>
        Each step is a walkabout that found plants gone; the band is how far the figure can be trusted, and
        the numbers beneath are the plants still watched.
      </p>
      <FigureWithTable draw={draw} files={files} />
      {frosts &&
        (frosts.rows.length === 0 ? (
          <p>No night outside fell below 0 °C in that time.</p>
        ) : (
          <DataTable
            caption="Frost outside between walkabouts; under a cover it may have been milder, or not"
            columns={frosts.headings.map((heading, place) => ({ heading, numeric: place > 1 }))}
            rows={frosts.rows}
          />
        ))}
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
