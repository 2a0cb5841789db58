import Link from "next/link";
import { notFound } from "next/navigation";
import { openHouse } from "@/lib/service/house";
import { type TrialView, trialView } from "@/lib/service/trial-view";
import { dayAtGarden, sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import { inAHundred } from "@/lib/words/say-number";
import { designWords, type Rule } from "@/lib/words/trial";

const roleWords = { check: "the check", "tender-check": "the tender check", entry: "" } as const;

/** The plan of a trial, as it was made and as it has been amended since. */
export default async function TrialPlanPage({ params }: { params: Promise<{ id: string }> }) {
  const { id } = await params;
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  return (
    <>
      <dl className="facts">
        <dt>Wanted for</dt>
        <dd>{trial.purpose || "not said"}</dd>
        <dt>Crop</dt>
        <dd>{trial.crop}</dd>
        <dt>Where</dt>
        <dd>
          {trial.beds
            .map((bed) => `${bed.name}, ${sayLengthMm(bed.widthMm)} × ${sayLengthMm(bed.lengthMm)}`)
            .join("; ")}
        </dd>
        <dt>Under</dt>
        <dd>{coverWords(trial)}</dd>
        <dt>Sown, planted</dt>
        <dd>
          {sayDay(trial.sownOn, true)}, {sayDay(trial.plantedOn, true)}
        </dd>
        <dt>Layout</dt>
        <dd>
          {trial.entries.length} varieties × {trial.blocks}{" "}
          {trial.design === "rcbd" ? "blocks" : "plots each"} × {trial.plantsPerPlot} plants,{" "}
          {sayLengthMm(trial.betweenPlantsMm)} apart in rows {sayLengthMm(trial.betweenRowsMm)} apart;{" "}
          {designWords[trial.design]}, dealt from seed {trial.seed}.{" "}
          <Link href={`/trials/${id}/beds`}>See the layout</Link>
        </dd>
        <dt>Looks</dt>
        <dd>
          {trial.assessments.map((look) => `${look.name} ${sayDay(look.dueOn, true)}`).join("; ")}. The rule
          goes by “{trial.decidingAssessment}”.
        </dd>
        <dt>How it is picked</dt>
        <dd>{trial.pickingRule || "not said"}</dd>
        <dt>Ground wanted back</dt>
        <dd>{trial.clearBy ? sayDay(trial.clearBy, true) : "no date set"}</dd>
        {trial.fallbackOn && (
          <>
            <dt>Fallback</dt>
            <dd>
              if it has not come to anything by {sayDay(trial.fallbackOn, true)}, something else goes in
            </dd>
          </>
        )}
      </dl>

      <h2>Varieties</h2>
      <ul className="ruled">
        {trial.entries.map((entry) => (
          <li key={entry.id}>
            {entry.variety}
            {roleWords[entry.role] && <span className="soft"> ({roleWords[entry.role]})</span>}
            {entry.packetClaim && <span className="soft">. The packet says: “{entry.packetClaim}”</span>}
          </li>
        ))}
      </ul>

      <h2>The rule for deciding</h2>
      {trial.rules.map((rule) => (
        <RuleWords key={rule.version} rule={rule} trial={trial} />
      ))}

      {trial.amendments.length > 0 && (
        <>
          <h2>Amendments</h2>
          <ul className="ruled">
            {trial.amendments.map((amendment) => (
              <li key={amendment.id}>
                {amendmentWords(trial, amendment)}
                <br />
                <span className="soft">
                  {amendment.reason} ({amendment.by}, {sayDay(dayAtGarden(amendment.madeAt, "UTC"), true)})
                </span>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function coverWords({ covers }: TrialView): string {
  if (covers.length === 0) return "open ground";
  return covers
    .map(({ name, kind, fromOn, untilOn }) => {
      const span = untilOn ? `${sayDay(fromOn)} to ${sayDay(untilOn)}` : `from ${sayDay(fromOn)}`;
      return `${name} (${kind}), ${span}`;
    })
    .join("; ");
}

function RuleWords({ rule, trial }: { rule: Rule; trial: TrialView }) {
  const floors = [
    rule.survivalFloor === null
      ? null
      : `at least ${inAHundred(rule.survivalFloor)} in 100 plants standing at “${trial.decidingAssessment}”`,
    rule.yieldFloor === null ? null : `at least ${inAHundred(rule.yieldFloor)} % of the check’s yield`,
  ].filter((words) => words !== null);
  const changed = rule.version > 1;
  return (
    <>
      <p>
        {changed && <strong>Changed: </strong>}
        {floors.length === 0
          ? "No floor is set; the figures are only described."
          : `Grow again what makes ${floors.join(" and ")}, when we can be ${inAHundred(rule.sureness)} % sure of it.`}
      </p>
      {rule.qualities.length > 0 && (
        <p>
          Besides: {rule.qualities.map((quality) => `${quality.trait} (${quality.weight})`).join(", ")}. These
          are judged by the person who decides.
        </p>
      )}
      <p className="soft">
        Set on {sayDay(dayAtGarden(rule.setAt, "UTC"), true)}
        {rule.reason ? `, because: ${rule.reason}` : ""}.
      </p>
    </>
  );
}

function amendmentWords(trial: TrialView, { plotId, kind, fromOn }: TrialView["amendments"][number]): string {
  const plot = trial.plots.find((row) => row.id === plotId);
  if (!plot) return `The trial was ${kind} on ${sayDay(fromOn, true)}.`;
  const words = kind === "excluded" ? "is out of the reckoning" : "is taken as missing";
  return `Plot ${plot.code} ${words} from ${sayDay(fromOn, true)}.`;
}
