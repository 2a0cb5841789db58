import type { Metadata } from "next";
import Link from "next/link";
import { gardenView } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { sayDay } from "@/lib/words/day";
import type { TrialState } from "@/lib/words/trial";

export const metadata: Metadata = { title: "Trials" };

const headings: Record<TrialState, string> = {
  running: "In the ground",
  planned: "Planned",
  closed: "Closed",
};

/** What we are finding out: each trial's question and where it stands. */
export default function TrialsPage() {
  const { trials } = gardenView(openHouse());
  return (
    <>
      <h1>Trials</h1>
      <div className="acts">
        <Link className="button main" href="/trials/new">
          Plan a trial
        </Link>
      </div>
      {trials.length === 0 && <p>No trial yet. One question and one bed are enough to begin.</p>}
      {(["running", "planned", "closed"] as const).map((state) => {
        const lines = trials.filter((trial) => trial.state === state);
        if (lines.length === 0) return null;
        return (
          <section key={state}>
            <h2>{headings[state]}</h2>
            <ul className="ruled">
              {lines.map((trial) => (
                <li key={trial.id}>
                  <Link href={state === "planned" ? `/trials/${trial.id}` : `/trials/${trial.id}/results`}>
                    {trial.question}
                  </Link>
                  <br />
                  <span className="soft">
                    {trial.crop}, {trial.bedNames.join(" and ")}; planted {sayDay(trial.plantedOn, true)}
                    {trial.nextAssessment
                      ? `; next look: ${trial.nextAssessment.name}, ${sayDay(trial.nextAssessment.dueOn, true)}`
                      : ""}
                    .
                  </span>
                  {trial.verdictsOwed > 0 && (
                    <>
                      {" "}
                      <Link href={`/trials/${trial.id}/verdict`}>
                        {trial.verdictsOwed === 1
                          ? "One verdict owed"
                          : `${trial.verdictsOwed} verdicts owed`}
                      </Link>
                    </>
                  )}
                </li>
              ))}
            </ul>
          </section>
        );
      })}
    </>
  );
}
