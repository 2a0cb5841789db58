import type { Metadata } from "next";
import Link from "next/link";
import { Suspense } from "react";
import { LinkButton } from "@/app/_ui/button";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { sentenceForOwed, sentenceForSureness, sentenceForVerdicts } from "@/lib/report/sentence-for-season";
import type { TrialAnswer } from "@/lib/service/answer-of";
import { openHouse } from "@/lib/service/house";
import { type SeasonLine, type SeasonTrial, seasonView } from "@/lib/service/season-view";
import { beginAnswers, trialAnswer } from "@/lib/service/trial-answer";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Trials" };

/** So many seasons are named beside those that are open; the others are one question away. */
const mostNamed = 20;

/** What we are finding out, season by season: each trial's question, its answer in a sentence and how sure that is. */
export default async function TrialsPage({
  searchParams,
}: {
  searchParams: Promise<{ season?: string | string[]; seasons?: string | string[] }>;
}) {
  const { season, seasons: listed } = await searchParams;
  const house = openHouse();
  beginAnswers(house);
  const seasons = seasonView(house, typeof season === "string" ? season : null);
  const open = seasons.filter((line) => line.shown !== null);
  const folded = seasons.filter((line) => line.shown === null);
  const named = listed === "all" ? folded : folded.slice(0, mostNamed);
  const earlier = folded.length - named.length;
  return (
    <>
      <DemoNote />
      <PageHeader title="Trials" />
      <div className={styles.acts}>
        <LinkButton href="/trials/new">Plan a trial</LinkButton>
      </div>
      {seasons.length === 0 && <p>There is no trial yet.</p>}
      {open.map((line) => (
        <SeasonSection key={line.season} line={line} />
      ))}
      {folded.length > 0 && (
        <Section title="Other seasons">
          <ul className={styles.lines}>
            {named.map((line) => (
              <li key={line.season}>
                <Link href={`/trials?season=${encodeURIComponent(line.season)}`}>{line.season}</Link>
                <p className={styles.aside}>{seasonWords(line)}</p>
              </li>
            ))}
          </ul>
          {earlier > 0 && (
            <p>
              <Link href="/trials?seasons=all">
                {earlier === 1 ? "One season" : `${earlier} seasons`} before these
              </Link>
            </p>
          )}
        </Section>
      )}
    </>
  );
}

function seasonWords({ trials, verdictsOwed }: SeasonLine): string {
  const count = trials === 1 ? "One trial." : `${trials} trials.`;
  return verdictsOwed > 0 ? `${count} ${sentenceForOwed(verdictsOwed)}` : count;
}

function SeasonSection({ line }: { line: SeasonLine }) {
  return (
    <Section title={`Season ${line.season}`}>
      <ul className={styles.lines}>
        {line.shown?.map((trial) => (
          <li key={trial.id}>
            <Link href={trial.state === "planned" ? `/trials/${trial.id}` : `/trials/${trial.id}/results`}>
              {trial.question}
            </Link>
            {trial.state !== "planned" &&
              (trial.answer ? (
                <AnswerWords answer={trial.answer} />
              ) : (
                <Suspense fallback={<p className={styles.soft}>What it says is being worked out.</p>}>
                  <AnswerWhenReady trialId={trial.id} />
                </Suspense>
              ))}
            <p className={styles.aside}>
              {standingOf(trial)} {sentenceForVerdicts(trial.verdicts)}
              {trial.verdictsOwed > 0 && (
                <>
                  {" "}
                  <Link href={`/trials/${trial.id}/verdict`}>{sentenceForOwed(trial.verdictsOwed)}</Link>
                </>
              )}
            </p>
          </li>
        ))}
      </ul>
    </Section>
  );
}

async function AnswerWhenReady({ trialId }: { trialId: string }) {
  const answer = await trialAnswer(openHouse(), trialId);
  return answer && <AnswerWords answer={answer} />;
}

function AnswerWords({ answer }: { answer: TrialAnswer }) {
  if (answer.headline === null) return <p>Nothing has been recorded yet.</p>;
  return (
    <>
      <p>{answer.headline}</p>
      <p className={styles.aside}>
        {sentenceForSureness(answer)}
        {answer.caution && ` Beware: ${answer.caution}`}
      </p>
    </>
  );
}

const stateWords = {
  running: "in the ground since",
  planned: "to be planted out",
  closed: "planted out",
} as const;

function standingOf({ crop, bedNames, state, plantedOn, nextAssessment }: SeasonTrial): string {
  const next = nextAssessment
    ? ` Next looked at for “${nextAssessment.name}” on ${sayDay(nextAssessment.dueOn, true)}.`
    : "";
  const closed = state === "closed" ? ", closed" : "";
  return `${beginSentence(crop)} in ${bedNames.join(" and ")}, ${stateWords[state]} ${sayDay(plantedOn, true)}${closed}.${next}`;
}
