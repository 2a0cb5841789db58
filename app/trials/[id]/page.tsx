import Link from "next/link";
import { notFound } from "next/navigation";
import { DataTable } from "@/app/_ui/data-table";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import { openHouse } from "@/lib/service/house";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import { type Companion, type Design, designWords, type PathSide, type Rule } from "@/lib/words/trial";
import { ForgetDraft } from "../new/_parts/forget-draft";
import { sayRule } from "./_parts/say-rule";

const roleWords = { check: "the check", "tender-check": "the tender check", entry: "on trial" } as const;

/** The plan of a trial: as it was made, and as it has been amended since. */
export default async function TrialPlanPage({ params }: { params: Promise<{ id: string }> }) {
  const trial = trialView(openHouse(), (await params).id);
  if (!trial) notFound();
  return (
    <>
      <ForgetDraft trialId={trial.id} />
      <Section title="What is on trial">
        <DataTable
          caption="Varieties of the trial"
          captionHidden
          columns={[{ heading: "Variety" }, { heading: "Grown as" }, { heading: "The packet says" }]}
          rows={trial.entries.map((entry) => [
            entry.variety,
            roleWords[entry.role],
            entry.packetClaim ?? <span className={styles.soft}>nothing noted</span>,
          ])}
        />
        <dl className={styles.facts}>
          {trial.purpose && (
            <>
              <dt>Wanted for</dt>
              <dd>{trial.purpose}</dd>
            </>
          )}
          <dt>Sown</dt>
          <dd>{sayDay(trial.sownOn, true)}</dd>
          <dt>Planted out</dt>
          <dd>{sayDay(trial.plantedOn, true)}</dd>
          <dt>Under</dt>
          <dd>{coverWords(trial)}</dd>
          {trial.levels.length > 0 && (
            <>
              <dt>Compared besides</dt>
              <dd>{levelDays(trial)}</dd>
            </>
          )}
          {trial.companions.length > 0 && (
            <>
              <dt>Between the plants</dt>
              <dd>{trial.companions.map(companionWords).join("; ")}</dd>
            </>
          )}
        </dl>
      </Section>
      <Section title="The bed">
        <p>
          {trial.beds
            .map((bed) => `${bed.name}, ${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`)
            .join("; ")}
          . {plotWords(trial)}
        </p>
        <p>
          <Link href={`/trials/${trial.id}/beds`}>See what goes where, and print it</Link>; or print the{" "}
          <Link href={`/trials/${trial.id}/sowing-list`}>sowing list</Link>,{" "}
          <Link href={`/trials/${trial.id}/stake-labels`}>stake labels</Link> or a{" "}
          <Link href={`/trials/${trial.id}/field-sheet`}>field sheet</Link>
        </p>
        {trial.firstObservationOn === null && trial.state !== "closed" && (
          <p className={styles.soft}>
            Once the first thing is recorded, varieties, plots and their places are fixed.
          </p>
        )}
      </Section>
      <Section title="When it is looked at">
        <DataTable
          caption="Dates of the trial"
          captionHidden
          columns={[{ heading: "Look" }, { heading: "Day", whole: true }, { heading: "The rule" }]}
          rows={trial.assessments.map(({ name, dueOn }) => [
            name,
            sayDay(dueOn, true),
            name === trial.decidingAssessment ? "decides on what stands then" : "",
          ])}
        />
        <dl className={styles.facts}>
          <dt>How it is picked</dt>
          <dd>{trial.pickingRule || "not said"}</dd>
          <dt>Bed wanted by</dt>
          <dd>{trial.clearBy ? sayDay(trial.clearBy, true) : "no day set"}</dd>
          <dt>If it fails</dt>
          <dd>
            {trial.fallbackOn
              ? `something else goes in by ${sayDay(trial.fallbackOn, true)}`
              : "no day set for something else to go in"}
          </dd>
        </dl>
      </Section>
      <Section title="The rule">
        {trial.rule && (
          <>
            <p>{sayRule(trial.rule, trial.decidingAssessment)}</p>
            <Qualities rule={trial.rule} />
            <p className={styles.soft}>{setWords(trial.rule)}</p>
          </>
        )}
        {trial.rules.length > 1 && (
          <Working summary="The rule as it was before">
            {trial.rules
              .slice(0, -1)
              .reverse()
              .map((rule) => (
                <div key={rule.version}>
                  <p>{sayRule(rule, trial.decidingAssessment)}</p>
                  <p className={styles.soft}>{setWords(rule)}</p>
                </div>
              ))}
          </Working>
        )}
        {trial.state !== "closed" && (
          <p>
            <Link href={`/trials/${trial.id}/change-rule`}>Change the rule</Link>
          </p>
        )}
      </Section>
      <Section title="What was changed">
        {trial.amendments.length === 0 ? (
          <p className={styles.soft}>Nothing so far.</p>
        ) : (
          <ul className={styles.lines}>
            {trial.amendments.map((amendment) => (
              <li key={amendment.id}>
                {amendmentWords(trial, amendment)}
                <p className={styles.aside}>
                  {amendment.reason} {amendment.by && `(${amendment.by})`}
                </p>
              </li>
            ))}
          </ul>
        )}
        {trial.state !== "closed" && (
          <ul>
            <li>
              <Link href={`/trials/${trial.id}/take-out-plot`}>Take a plot out of the reckoning</Link>
            </li>
            <li>
              <Link href={`/trials/${trial.id}/close`}>Close the trial</Link>
            </li>
          </ul>
        )}
      </Section>
      <Section title="Again">
        <ul>
          <li>
            <Link href={`/trials/new?from=${trial.id}`}>Plan another trial from this one</Link>
          </li>
          <li>
            <Link href={`/trials/new?from=${trial.id}&only=undecided`}>
              Plan one with what is to be tried once more
            </Link>
          </li>
        </ul>
      </Section>
    </>
  );
}

/** How many plots of how many plants there are, and how they were dealt. */
function plotWords(trial: TrialView): string {
  const { entries, blocks, plots, design, levels, plantsPerPlot } = trial;
  const each: Record<Design, string> = {
    crd: `${entries.length} varieties × ${blocks} plots each`,
    rcbd: `${entries.length} varieties × ${blocks} blocks`,
    latin: `${entries.length} varieties in ${entries.length} rows and columns`,
    "split-plot": `${entries.length} varieties × ${levels.map((level) => level.words).join(", ")} × ${blocks} blocks`,
    augmented: `${entries.length} varieties, the checks in each of ${blocks} blocks`,
    "incomplete-blocks": `${entries.length} varieties × ${blocks} replicates in blocks of ${trial.plotsPerBlock} at most`,
  };
  const guards = trial.guardRows > 0 ? ` ${trial.guardRows} guard rows stand all round.` : "";
  const way =
    trial.gradient === null
      ? ""
      : ` Blocks lie one after another ${trial.gradient === "along" ? "along" : "across"} the bed, the way the ground changes.`;
  const paths: Record<PathSide, string> = {
    left: "",
    right: " The path runs at the right hand.",
    between: " The path runs between the two beds.",
  };
  const path = paths[trial.pathSide];
  const pots = trial.beds.some((bed) => bed.potMm !== null) ? " Each plot is a pot." : "";
  return `${each[design]} × ${plantsPerPlot} plants a plot are ${plots.length} plots and ${plots.length * plantsPerPlot} plants, ${sayLengthMm(trial.betweenPlantsMm)} apart in rows ${sayLengthMm(trial.betweenRowsMm)} apart; dealt ${designWords[design]}.${guards}${way}${path}${pots}`;
}

function levelDays({ levels }: TrialView): string {
  return levels
    .map(({ words, fromOn, untilOn, sownOn, companion }) =>
      companion !== null
        ? `${words} (${companion.habit}, every ${sayLengthMm(companion.betweenPlantsMm)}, sown ${sayDay(companion.sownOn, true)})`
        : fromOn === null || sownOn !== null
          ? words
          : `${words} from ${sayDay(fromOn, true)}${untilOn ? ` to ${sayDay(untilOn, true)}` : ""}`,
    )
    .join("; ");
}

function companionWords({ name, habit, sownOn, betweenPlantsMm }: Companion): string {
  return `${name} (${habit}) every ${sayLengthMm(betweenPlantsMm)}, sown ${sayDay(sownOn, true)}`;
}

function coverWords({ covers }: TrialView): string {
  if (covers.length === 0) return "open ground";
  return covers
    .map(({ name, kind, fromOn, untilOn }) => {
      const what = name.toLowerCase() === kind.toLowerCase() ? kind : `${kind} (${name})`;
      return `${what} from ${sayDay(fromOn, true)}${untilOn ? ` to ${sayDay(untilOn, true)}` : ""}`;
    })
    .join("; ");
}

function Qualities({ rule }: { rule: Rule }) {
  if (rule.qualities.length === 0) return null;
  return (
    <p>
      Besides these: {rule.qualities.map(({ trait, weight }) => `${trait} (${weight})`).join(", ")}. Whoever
      decides judges them.
    </p>
  );
}

function setWords(rule: Rule): string {
  const day = sayDay(rule.setAt.slice(0, 10) as TrialView["today"], true);
  if (rule.reason === null) return `Set on ${day}, when the trial was planned.`;
  return `Changed on ${day}: ${rule.reason}`;
}

function amendmentWords(trial: TrialView, amendment: TrialView["amendments"][number]): string {
  const day = sayDay(amendment.fromOn, true);
  const plot = trial.plots.find((row) => row.id === amendment.plotId);
  if (!plot) return `The trial was closed on ${day}.`;
  if (amendment.kind === "another variety") {
    const dealt = trial.entries.find((entry) => entry.id === plot.entryId)?.variety;
    return `Plot ${plot.code} holds ${amendment.plantedVariety} instead of ${dealt}: from ${day} on it counts for neither.`;
  }
  return amendment.kind === "missing"
    ? `Plot ${plot.code} holds nothing to be judged from ${day} on.`
    : `Plot ${plot.code} is left out of the reckoning from ${day} on.`;
}
