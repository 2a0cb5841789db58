import Link from "next/link";
import { LinkButton, SendButton } from "@/app/_ui/button";
import { DemoNote } from "@/app/_ui/demo-note";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { gardenView, type TrialLine } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { beginAnswers } from "@/lib/service/trial-answer";
import { type Day, daysBetween, sayDay } from "@/lib/words/day";
import { lookRoundTheDemo } from "./start/actions";

/** Today: what wants doing, each with its one action; before there is a garden, the two ways to begin. */
export default function TodayPage() {
  const house = openHouse();
  const { garden, today, trials, beds } = gardenView(house, "open");
  if (!garden) return <FirstVisit />;
  beginAnswers(house);
  const wanted = trials.flatMap((trial) => wantedOf(trial, today)).sort((a, b) => a.on.localeCompare(b.on));
  const isRunning = trials.some((trial) => trial.state === "running");
  return (
    <>
      <DemoNote />
      <PageHeader title={sayDay(today, true)} over={garden.name} />
      {wanted.length > 0 && (
        <ul className={styles.lines}>
          {wanted.map((line) => (
            <li key={line.href + line.words}>
              {line.words} <Link href={line.href}>{line.action}</Link>
              <p className={styles.aside}>{line.trial.question}</p>
            </li>
          ))}
        </ul>
      )}
      {wanted.length === 0 && beds.length > 0 && <p>Nothing is due today.</p>}
      {beds.length === 0 && (
        <p>
          There is no trial yet. One question and one bed are enough to begin: which of four or five varieties
          is worth its ground?
        </p>
      )}
      <div className={styles.acts}>
        {isRunning && <LinkButton href="/walkabout">Start a walkabout</LinkButton>}
        {isRunning && (
          <LinkButton href="/weigh-in" manner="plain">
            Weigh what was picked
          </LinkButton>
        )}
        <LinkButton href="/trials/new" manner={isRunning ? "plain" : "main"}>
          Plan a trial
        </LinkButton>
      </div>
    </>
  );
}

interface Wanted {
  trial: TrialLine;
  on: Day;
  words: string;
  action: string;
  href: string;
}

/** Further off than this, a date says more than a count of days. */
const soonDays = 60;

function inDays(today: Day, day: Day): string {
  const days = daysBetween(today, day);
  if (days === 0) return "today";
  if (days === 1) return "tomorrow";
  return days <= soonDays ? `on ${sayDay(day)}, in ${days} days` : `on ${sayDay(day, true)}`;
}

/** What a trial asks of its people, with the day that it is asked for. */
function wantedOf(trial: TrialLine, today: Day): Wanted[] {
  const what = `${trial.crop} in ${trial.bedNames.join(" and ")}`;
  const place = `/trials/${trial.id}`;
  const wanted: Wanted[] = [];
  if (trial.state === "planned")
    wanted.push({
      trial,
      on: trial.plantedOn,
      words: `Plant out ${what} ${inDays(today, trial.plantedOn)}.`,
      action: "See what goes where",
      href: `${place}/beds`,
    });
  if (trial.state === "running" && trial.nextAssessment) {
    const { name, dueOn } = trial.nextAssessment;
    wanted.push({
      trial,
      on: dueOn,
      words: `Look at ${what} for “${name}” ${inDays(today, dueOn)}.`,
      action: "Walk round",
      href: "/walkabout",
    });
  }
  if (trial.verdictsOwed > 0)
    wanted.push({
      trial,
      on: today,
      words: `Give ${trial.verdictsOwed === 1 ? "a verdict" : `${trial.verdictsOwed} verdicts`} on ${what}.`,
      action: "Decide",
      href: `${place}/verdict`,
    });
  return wanted;
}

function FirstVisit() {
  return (
    <>
      <PageHeader title="Which varieties really stand the winter in your garden?" />
      <p>
        Proving Bed helps you set a fair trial in a bed of your own, note on a walk round what was lost and to
        what, weigh what you pick, and decide what to grow again. It says what the bed proved, and no more.
      </p>
      <div className={styles.acts}>
        <form action={lookRoundTheDemo}>
          <SendButton manner="main">Look round the demo</SendButton>
        </form>
        <LinkButton href="/start" manner="plain">
          Start my own garden
        </LinkButton>
      </div>
      <p className={styles.soft}>
        The demo is Hazel Clough, an invented garden with two winters of trials. Nothing leaves this machine
        either way.
      </p>
    </>
  );
}
