import Link from "next/link";
import { gardenView, type TrialLine } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { daysBetween, sayDay } from "@/lib/words/day";
import { lookRoundTheDemo } from "./start/actions";

/** Today: what wants doing, each with its one action; before there is a garden, the two ways to begin. */
export default function TodayPage() {
  const view = gardenView(openHouse());
  if (!view.garden) return <FirstVisit />;
  const wanted = view.trials.flatMap((trial) => todo(trial, view.today));
  return (
    <>
      <h1>
        {view.garden.name}, {sayDay(view.today, true)}
      </h1>
      {view.garden.isDemo && <DemoNote />}
      {wanted.length === 0 ? (
        <p>Nothing is due today. The next thing is a walk round, whenever the weather lets you.</p>
      ) : (
        <ul className="ruled">
          {wanted.map((line) => (
            <li key={line.key}>
              {line.words} <Link href={line.href}>{line.action}</Link>
            </li>
          ))}
        </ul>
      )}
      <div className="acts">
        <Link className="button main" href="/walkabout">
          Start a walkabout
        </Link>
        <Link className="button" href="/weigh-in">
          Weigh a harvest
        </Link>
        <Link className="button" href="/trials/new">
          Plan a trial
        </Link>
      </div>
    </>
  );
}

interface Todo {
  key: string;
  words: string;
  href: string;
  action: string;
}

function todo(trial: TrialLine, today: TrialLine["plantedOn"]): Todo[] {
  const lines: Todo[] = [];
  const where = trial.bedNames.join(" and ");
  if (trial.state === "planned") {
    const days = daysBetween(today, trial.plantedOn);
    lines.push({
      key: `${trial.id} plant`,
      words: `${trial.crop} in ${where}: planting out on ${sayDay(trial.plantedOn)}, in ${days === 1 ? "a day" : `${days} days`}.`,
      href: `/trials/${trial.id}/beds`,
      action: "See the planting plan",
    });
  }
  if (trial.state === "running" && trial.nextAssessment) {
    const days = daysBetween(today, trial.nextAssessment.dueOn);
    const when =
      days === 0
        ? "today"
        : days === 1
          ? "tomorrow"
          : `on ${sayDay(trial.nextAssessment.dueOn)}, in ${days} days`;
    lines.push({
      key: `${trial.id} look`,
      words: `${trial.crop} in ${where}: the assessment “${trial.nextAssessment.name}” is ${when}.`,
      href: "/walkabout",
      action: days <= 1 ? "Walk it" : "Walk round now",
    });
  }
  if (trial.verdictsOwed > 0)
    lines.push({
      key: `${trial.id} decide`,
      words: `${trial.question} ${trial.verdictsOwed === 1 ? "One verdict is" : `${trial.verdictsOwed} verdicts are`} owed.`,
      href: `/trials/${trial.id}/verdict`,
      action: "Decide",
    });
  return lines;
}

function FirstVisit() {
  return (
    <>
      <h1>Which varieties really stand the winter in your garden?</h1>
      <p>
        Proving Bed helps you set a fair trial in a bed of your own, write down what was lost and to what
        while you walk round, weigh what you pick, and decide what to grow again. It tells you what the bed
        proved, and what it did not.
      </p>
      <p>Everything stays on this machine.</p>
      <div className="acts">
        <form action={lookRoundTheDemo}>
          <button type="submit" className="main">
            Look round the demo
          </button>
        </form>
        <Link className="button" href="/start">
          Start my own garden
        </Link>
      </div>
      <p className="soft">
        The demo is Hazel Clough, an invented garden with two winters of trials. Every name and figure in it
        is made up.
      </p>
    </>
  );
}

/** Said wherever the garden on screen is the invented one. */
function DemoNote() {
  return (
    <p className="soft">
      This is the demo: an invented garden, invented varieties, simulated losses and weights. To keep your own
      records, start the program with another data folder.
    </p>
  );
}
