import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { Suspense } from "react";
import { Cautions } from "@/app/_ui/cautions";
import { DataTable } from "@/app/_ui/data-table";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { sentenceForDifference } from "@/lib/report/sentence-for-difference";
import {
  sentenceForAnotherWinter,
  sentenceForFloor,
  sentenceForProposal,
} from "@/lib/report/sentence-for-proposal";
import { sentenceForTest } from "@/lib/report/sentence-for-test";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import { sayUse } from "@/lib/report/sentence-for-winters";
import { sentenceForYieldDifference } from "@/lib/report/sentence-for-yield";
import { surenessWords } from "@/lib/report/sureness";
import { openHouse } from "@/lib/service/house";
import { trialVerdicts, type VerdictLine } from "@/lib/service/trial-verdicts";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { type VerdictFindings, verdictFindingsInTurn } from "@/lib/service/verdict-findings";
import { findingsInTurn } from "@/lib/service/whole-findings";
import { sayDay } from "@/lib/words/day";
import { sayRule } from "../_parts/say-rule";
import { VerdictForm } from "./_parts/verdict-form";

export const metadata: Metadata = { title: "Verdict" };

type Findings = VerdictFindings["findings"];
type Entry = TrialView["entries"][number];

/** The rule, what the bed says to it, and for each variety the evidence, the proposal and a person's own last word. */
export default async function VerdictPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const house = openHouse();
  const trial = trialView(house, id);
  const findings = await findingsInTurn(house, id);
  if (!trial || !findings) notFound();
  const verdicts = trialVerdicts(house, id);
  const { proposals } = findings;
  return (
    <>
      <Section title="The rule">
        {trial.rule ? (
          <>
            <p>{sayRule(trial.rule, trial.decidingAssessment)}</p>
            <p className={styles.soft}>{ruleHistory(trial)}</p>
          </>
        ) : (
          <p>No rule was set, so the figures propose nothing. You decide all the same.</p>
        )}
        {sentenceForTest(findings) && <p>{sentenceForTest(findings)}</p>}
        <p>
          {useWords(trial)} The figures are{" "}
          {findings.at ? `those of ${sayDay(findings.at, true)}` : "not there yet"};{" "}
          <Link href={`/trials/${id}/results`}>the results</Link> show them all.
        </p>
        <Cautions cautions={[...findings.cautions, ...(proposals?.cautions ?? [])]} />
        <Working summary="What the words for sureness mean">
          <DataTable
            caption="Words for how often something like this would be right; for “missed” they are the same"
            columns={[{ heading: "words" }, { heading: "at least", numeric: true }]}
            rows={surenessWords.map(({ words, atLeast }) => [
              words,
              `${Math.round(atLeast * 100)} times in 100`,
            ])}
          />
          <p>
            These are of this bed and this winter. For another winter a second figure stands beside them,
            which holds how far winters differ; where there was one only, that is assumed. A verdict rests on
            two winters, of which at least one tested the plants: on the first, the rule proposes nothing
            higher than “try once more”. You may choose otherwise and say why.
          </p>
        </Working>
      </Section>
      <Suspense fallback={<p>The winters before this one are being worked out.</p>}>
        <EntryVerdicts trial={trial} verdicts={verdicts} />
      </Suspense>
      <Section title="What is still open">
        <p>
          {verdicts.length === 0
            ? "No verdict has been given yet."
            : "Varieties without a verdict, or to be tried once more, can go straight into the next trial with the checks."}{" "}
          <Link href={`/trials/new?from=${id}&only=undecided`}>Plan a trial of what is still undecided</Link>
        </p>
      </Section>
    </>
  );
}

/** Each variety with the winters before this one, which may take a moment after a start. */
async function EntryVerdicts({ trial, verdicts }: { trial: TrialView; verdicts: VerdictLine[] }) {
  const told = await verdictFindingsInTurn(openHouse(), trial.id);
  return (
    told &&
    trial.entries.map((entry) => (
      <EntryVerdict
        key={entry.id}
        trialId={trial.id}
        entry={entry}
        findings={told.findings}
        anotherWinter={told.anotherWinter(entry.variety)}
        verdicts={verdicts.filter((verdict) => verdict.entryId === entry.id)}
      />
    ))
  );
}

function ruleHistory({ rules, rule, firstObservationOn }: TrialView): string {
  if (!rule) return "";
  const changed = rules.length - 1;
  const last = sayDay(rule.setAt.slice(0, 10) as TrialView["today"], true);
  if (changed === 0) return `Set on ${last}${firstObservationOn ? ", before anything was recorded" : ""}.`;
  return `Changed ${changed === 1 ? "once" : `${changed} times`}, last on ${last}: ${rule.reason ?? "no reason given"}.`;
}

/** What the verdicts are for: a summer favourite that dies in winter is dropped for winter only. */
function useWords({ crop, purpose, covers, levels, sownOn }: TrialView): string {
  const over = [...new Set(covers.map(({ name }) => name))];
  const compared = levels.filter(({ factor }) => factor === "cover");
  const sowings = levels.flatMap((level) => level.sownOn ?? []);
  const use = sayUse({
    covers:
      compared.length === 0
        ? [over]
        : compared.map(({ cover }) => (cover === null ? over : [...over, cover.name])),
    sownOn: sowings.length === 0 ? [sownOn] : sowings,
    purpose,
  });
  return `A verdict is for this use: ${crop} ${use}.`;
}

function EntryVerdict({
  trialId,
  entry,
  findings,
  anotherWinter,
  verdicts,
}: {
  trialId: string;
  entry: Entry;
  findings: Findings;
  anotherWinter: number | null;
  verdicts: VerdictLine[];
}) {
  const { survival, yield: harvest, proposals } = findings;
  const name = entry.variety;
  const proposal = proposals?.value.find((one) => one.variety === name);
  const share = survival?.value.varieties.find((one) => one.variety === name);
  const difference = findings.trial.check
    ? survival?.value.differences.find((one) => one.variety === name)
    : undefined;
  const yielded = harvest?.value.differences.find((one) => one.variety === name);
  const latest = verdicts.find((verdict) => verdict.isLatest);
  return (
    <Section title={name} id={`entry-${entry.id}`}>
      <p className={styles.soft}>
        {entry.packetClaim && `The packet says: ${sentenceEnd(entry.packetClaim)} `}
        <Link href={`/varieties/${entry.varietyId}`}>All that is known of {name}</Link>
      </p>
      <ul className={styles.lines}>
        {share && (
          <li>
            {sentenceForVariety(share)}
            {share.plots > 0 && ` From ${share.plots === 1 ? "one plot" : `${share.plots} plots`}.`}
          </li>
        )}
        {difference && <li>{sentenceForDifference(difference)}</li>}
        {yielded && harvest && <li>{sentenceForYieldDifference(yielded, harvest.value.unit)}</li>}
        {!share && !yielded && <li>Nothing has been recorded of it yet.</li>}
        {proposal?.floors.map((floor) => (
          <li key={`${floor.of} ${floor.under}`}>
            {sentenceForFloor(floor)}
            {floor.of === "survival" && !floor.under && anotherWinter !== null && (
              <> {sentenceForAnotherWinter(anotherWinter, proposal.winters)}</>
            )}
          </li>
        ))}
      </ul>
      {proposal && (
        <>
          <p>{sentenceForProposal(proposal)}</p>
          {proposal.reasons.map((reason) => (
            <p key={reason} className={styles.soft}>
              {reason}
            </p>
          ))}
        </>
      )}
      {latest && <VerdictWords verdict={latest} />}
      {verdicts.length > 1 && (
        <Working summary="Verdicts before this one">
          {verdicts
            .filter((verdict) => !verdict.isLatest)
            .reverse()
            .map((verdict) => (
              <VerdictWords key={verdict.id} verdict={verdict} />
            ))}
        </Working>
      )}
      {latest ? (
        <Working summary={`Decide again on ${name}`}>
          <VerdictForm trialId={trialId} entryId={entry.id} variety={name} />
        </Working>
      ) : (
        <VerdictForm trialId={trialId} entryId={entry.id} variety={name} />
      )}
    </Section>
  );
}

/** What was typed, with a full stop where it has no end of its own. */
function sentenceEnd(words: string): string {
  return /[.!?…]$/.test(words.trim()) ? words : `${words}.`;
}

function VerdictWords({ verdict }: { verdict: VerdictLine }) {
  const proposed =
    verdict.proposal === null
      ? "nothing was proposed"
      : verdict.proposal === verdict.choice
        ? "as the rule proposed"
        : `the rule proposed “${verdict.proposal}”`;
  return (
    <div className={styles.note}>
      <p>
        <strong>{verdict.choice}</strong>, decided on {sayDay(verdict.decidedOn, true)}
        {verdict.by && ` by ${verdict.by}`}; {proposed}.
      </p>
      <p>{verdict.reason}</p>
    </div>
  );
}
