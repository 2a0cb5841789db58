import type { Metadata } from "next";
import Link from "next/link";
import { LinkButton } from "@/app/_ui/button";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { type LogLine, trialLog } from "@/lib/service/trial-log";
import { sayDay } from "@/lib/words/day";
import { sayObservation } from "@/lib/words/say-observation";

export const metadata: Metadata = { title: "Log" };

/** Everything recorded in a trial, the latest day first; what was corrected or withdrawn stays, struck through. */
export default async function LogPage({
  params,
  searchParams,
}: {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ before?: string | string[] }>;
}) {
  const { id } = await params;
  const { before } = await searchParams;
  const { lines, nextBefore } = trialLog(openHouse(), id, typeof before === "string" ? before : undefined);
  if (lines.length === 0)
    return (
      <>
        <p>{before ? "Nothing was recorded earlier." : "Nothing has been recorded yet."}</p>
        <div className={styles.acts}>
          <LinkButton href="/walkabout" manner="plain">
            Start a walkabout
          </LinkButton>
        </div>
      </>
    );
  const days = [...new Set(lines.map((line) => line.seenOn))];
  return (
    <>
      {days.map((day) => {
        const ofDay = lines.filter((line) => line.seenOn === day);
        const people = [...new Set(ofDay.map((line) => line.by))];
        return (
          <Section key={day} title={sayDay(day, true)}>
            {people.map((by) => (
              <div key={by}>
                <h3>{by || "Nobody named"}</h3>
                <ul className={styles.many}>
                  {ofDay
                    .filter((line) => line.by === by)
                    .map((line) => (
                      <Line key={line.id} line={line} />
                    ))}
                </ul>
              </div>
            ))}
          </Section>
        );
      })}
      {!before && (
        <p>
          <a href={`/trials/${id}/export`} download>
            Download this trial’s records
          </a>{" "}
          as tables in a zip
        </p>
      )}
      {nextBefore && (
        <p>
          <Link href={`/trials/${id}/log?before=${nextBefore}`}>Earlier days</Link>
        </p>
      )}
    </>
  );
}

function Line({ line }: { line: LogLine }) {
  const words = `${line.plotCode} ${line.variety}: ${sayObservation(line)}`;
  const ownWords = line.kind === "note" || line.kind === "withdrawn";
  return (
    <li>
      {line.state === "in force" ? words : <del>{words}</del>}
      {line.state !== "in force" && <span className={styles.soft}> ({line.state})</span>}
      {line.note && !ownWords && <span className={styles.soft}> “{line.note}”</span>}
    </li>
  );
}
