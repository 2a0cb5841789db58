import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { Cautions } from "@/app/_ui/cautions";
import { DataTable } from "@/app/_ui/data-table";
import { DemoNote } from "@/app/_ui/demo-note";
import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { wintersFigure } from "@/lib/figure/winters-figure";
import {
  claimBesideProof,
  contrastWorking,
  sayCoverKinds,
  sayTested,
  sayUse,
  sayWintersKind,
  sentenceForAnother,
  sentenceForAnotherFloor,
  sentenceForDifferences,
  sentenceForLossesOver,
  sentenceForOtherScale,
  sentenceForStems,
  sentenceForTestedOnly,
  sentenceForTypical,
  sentenceForWinter,
  sentenceForWinterDifference,
  sentenceForYieldOverWinters,
} from "@/lib/report/sentence-for-winters";
import { sentenceForYield } from "@/lib/report/sentence-for-yield";
import { openHouse } from "@/lib/service/house";
import { type VarietyVerdict, type VarietyView, varietyView } from "@/lib/service/variety-view";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";
import { sayDecimal } from "@/lib/words/say-number";

interface VarietyProps {
  params: Promise<{ id: string }>;
}

export async function generateMetadata({ params }: VarietyProps): Promise<Metadata> {
  const variety = await varietyView(openHouse(), (await params).id);
  return { title: variety?.name ?? "No such variety" };
}

/** One variety, all winters together: the packet's claim beside what was proved, each winter, and what another may bring. */
export default async function VarietyPage({ params }: VarietyProps) {
  const variety = await varietyView(openHouse(), (await params).id);
  if (!variety) notFound();
  const told = variety.trials.flatMap(({ told }) => told ?? []);
  const stems = told.flatMap((one) => sentenceForStems(one) ?? []);
  const losses = sentenceForLossesOver(told);
  return (
    <>
      <DemoNote />
      <PageHeader title={variety.name} over={beginSentence(variety.crop)} />
      <p>
        {claimBesideProof(
          variety.packetClaim,
          variety.winters.map(({ value }) => value.proof),
        )}
      </p>
      {variety.winters.map((finding, place) => (
        <WintersOfKind key={sayWintersKind(finding.value.kind)} finding={finding} place={place} />
      ))}
      {variety.winters.length > 1 && (
        <p className={styles.soft}>
          Figures under unlike covers, or judged at unlike times, are kept apart: each has its part above.
        </p>
      )}
      <Section title="What was lost">
        {losses ? <p>{losses}</p> : <p>Nothing has been recorded of its plants.</p>}
        {told.length > 1 &&
          told.map((one) => (
            <p key={one.trial.trialId} className={styles.aside}>
              {one.trial.season}: {sentenceForLossesOver([one]) ?? "no plants to judge by."}
            </p>
          ))}
      </Section>
      {stems.length > 0 && (
        <Section title="Running up to flower">
          <ul className={styles.lines}>
            {stems.map((stem) => (
              <li key={stem}>{stem}</li>
            ))}
          </ul>
        </Section>
      )}
      <Verdicts variety={variety} />
      <Section title="Trials">
        {variety.trials.length === 0 && (
          <p>
            It has stood in no trial yet. <Link href="/trials/new">Plan a trial</Link>
          </p>
        )}
        <ul className={styles.lines}>
          {variety.trials.map((trial) => (
            <li key={trial.id}>
              <Link href={trial.state === "planned" ? `/trials/${trial.id}` : `/trials/${trial.id}/results`}>
                {trial.question}
              </Link>
              <p className={styles.aside}>
                {trial.state === "planned" ? "To be planted out" : "Planted out"}{" "}
                {sayDay(trial.plantedOn, true)}
                {trial.told &&
                  `, ${trial.told.shares.map(({ coverKinds }) => sayCoverKinds(coverKinds)).join(" and ")}`}
                {trial.told && trial.told.role !== "entry" && `; it was the ${roleWords[trial.told.role]}`}.
              </p>
            </li>
          ))}
        </ul>
      </Section>
    </>
  );
}

const roleWords = { check: "check", "tender-check": "tender check" } as const;

type WintersFinding = VarietyView["winters"][number];

function WintersOfKind({ finding, place }: { finding: WintersFinding; place: number }) {
  const { value } = finding;
  const { survival, lines, kind } = value;
  const floor = survival?.floor ?? null;
  const against = lines.flatMap((line) => sentenceForWinterDifference(line) ?? []);
  const together = sentenceForDifferences(value);
  return (
    <Section title={sayWintersKind(kind)}>
      <ul className={styles.lines}>
        {lines.map((line) => (
          <li key={line.trial.trialId}>
            {sentenceForWinter(line)}
            {line.yieldMean && (
              <p className={styles.aside}>{sentenceForYield(line.yieldMean, "plant", "g")}</p>
            )}
          </li>
        ))}
      </ul>
      {[sentenceForTypical(value), sentenceForAnother(value)].map(
        (sentence) => sentence && <p key={sentence}>{sentence}</p>,
      )}
      {survival?.pooled.atLeastFloor && floor !== null && (
        <p>
          {sentenceForAnotherFloor(floor, survival.pooled.atLeastFloor.another, value.winters.length, kind)}
        </p>
      )}
      <Cautions cautions={finding.cautions} />
      <FigureWithTable draw={(widthPx) => wintersFigure(finding, { widthPx, id: `winters-${place + 1}` })} />
      {(against.length > 0 || value.yields.length > 0) && (
        <>
          <h3>Against the check</h3>
          {together && <p>{together}</p>}
          <ul className={styles.lines}>
            {against.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
            {value.yields.map((contrast) => (
              <li key={contrast.reference}>{sentenceForYieldOverWinters(value.variety, contrast, kind)}</li>
            ))}
          </ul>
        </>
      )}
      <WintersWorking finding={finding} />
    </Section>
  );
}

function WintersWorking({ finding }: { finding: WintersFinding }) {
  const { value, method, level, plants, plots } = finding;
  const { survival, winters, kind } = value;
  if (!survival) return null;
  return (
    <Working>
      <p>
        Each winter’s plants are cut down to effective plants, as on the trial’s own page. Over winters the
        share is binomial in those, with a chance that differs from winter to winter: its logit is normal
        about a mean (itself normal about 0 with spread 2.5) with a spread whose prior is half-normal with
        scale {survival.pooled.scale}. Limits are posterior, at {Math.round(level * 100)} %; they rest on{" "}
        {plants} plants in {plots} plots. The spread comes out at {sayDecimal(survival.pooled.spread, 2)} on
        the logit scale
        {winters.length === 1 && ", which is the prior’s own"}.
      </p>
      <p>{sentenceForOtherScale(survival.otherScale)}</p>
      {survival.testedOnly && <p>{sentenceForTestedOnly(survival.testedOnly)}</p>}
      {kind.isOverWinter && (
        <DataTable
          caption="Which winters tested hardiness"
          columns={[{ heading: "winter" }, { heading: "trial" }, { heading: "tested" }]}
          rows={value.lines.map((line) => [line.trial.season, line.trial.question, sayTested(line)])}
        />
      )}
      {[...value.yields, ...value.odds].flatMap((contrast) =>
        contrastWorking(contrast).map((sentence, place) => (
          <p key={`${contrast.of} ${contrast.reference} ${place}`}>{sentence}</p>
        )),
      )}
      <ul>
        {method.sources.map((source) => (
          <li key={source}>{source}</li>
        ))}
      </ul>
    </Working>
  );
}

function Verdicts({ variety }: { variety: VarietyView }) {
  return (
    <Section title="Verdicts">
      {variety.verdicts.length === 0 && <p>None has been given yet.</p>}
      {variety.verdicts.map(({ use, verdicts: [latest, ...earlier] }) => (
        <div key={latest.id}>
          <h3>{beginSentence(sayUse(use))}</h3>
          <VerdictWords verdict={latest} />
          {earlier.length > 0 && (
            <Working summary="Verdicts before this one">
              {earlier.map((verdict) => (
                <VerdictWords key={verdict.id} verdict={verdict} />
              ))}
            </Working>
          )}
        </div>
      ))}
    </Section>
  );
}

function VerdictWords({ verdict }: { verdict: VarietyVerdict }) {
  return (
    <div className={styles.note}>
      <p>
        <strong>{verdict.choice}</strong>, decided on {sayDay(verdict.decidedOn, true)}
        {verdict.by && ` by ${verdict.by}`}
        {verdict.proposal &&
          verdict.proposal !== verdict.choice &&
          `; the rule proposed “${verdict.proposal}”`}
        .
      </p>
      <p>{verdict.reason}</p>
      <p className={styles.aside}>
        From <Link href={`/trials/${verdict.trialId}/verdict`}>{verdict.question}</Link>
      </p>
    </div>
  );
}
