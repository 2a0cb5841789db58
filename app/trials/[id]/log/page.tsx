import type { Metadata } from "next";
import Link from "next/link";
import { LinkButton } from "@/app/_ui/button";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { type BedLogLine, type LogLine, trialLog } from "@/lib/service/trial-log";
import { sayBedFact } from "@/lib/words/bed-fact";
import { sayDay } from "@/lib/words/day";
import { sayObservation } from "@/lib/words/say-observation";
import { SmallPicture } from "./_parts/small-picture";

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
  const page = trialLog(openHouse(), id, typeof before === "string" ? before : undefined);
  const { lines, bedLines, nextBefore } = page;
  if (lines.length + bedLines.length === 0)
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
  const days = [...new Set([...lines, ...bedLines].map((line) => line.seenOn))].sort().reverse();
  return (
    <>
      {days.map((day) => {
        const ofDay = lines.filter((line) => line.seenOn === day);
        const bedsOfDay = bedLines.filter((line) => line.seenOn === day);
        const people = [...new Set([...bedsOfDay, ...ofDay].map((line) => line.by))];
        return (
          <Section key={day} title={sayDay(day, true)}>
            {people.map((by) => (
              <div key={by}>
                <h3>{by || "Nobody named"}</h3>
                <ul className={styles.many}>
                  {bedsOfDay
                    .filter((line) => line.by === by)
                    .map((line) => (
                      <BedLine key={line.id} line={line} />
                    ))}
                  {ofDay
                    .filter((line) => line.by === by)
                    .map((line) => (
                      <Line key={line.id} line={line} trialId={id} />
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

function BedLine({ line }: { line: BedLogLine }) {
  const words = `${line.bedName}: ${sayBedFact(line)}`;
  return (
    <li>
      {line.state === "in force" ? words : <del>{words}</del>}
      {line.state !== "in force" && <span className={styles.soft}> ({line.state})</span>}
      <SkewOf line={line} />
      <PictureOf line={line} of={line.bedName} />
    </li>
  );
}

function PictureOf({ line, of }: { line: LogLine | BedLogLine; of: string }) {
  if (!line.picture) return null;
  if (!line.pictureHome) return <span className={styles.soft}> (still on the phone)</span>;
  return <SmallPicture name={line.picture} of={of} day={line.seenOn} />;
}

/** From this many seconds on a phone's clock is worth a word: its day may be another. */
const tellSkewFromS = 6 * 3_600;

function SkewOf({ line }: { line: { clockSkewS?: number | null } }) {
  const skewS = line.clockSkewS ?? 0;
  if (Math.abs(skewS) < tellSkewFromS) return null;
  const hours = Math.round(Math.abs(skewS) / 3_600);
  return (
    <span className={styles.soft}>
      {" "}
      (by a clock {hours} hours {skewS > 0 ? "ahead" : "behind"})
    </span>
  );
}

function Line({ line, trialId }: { line: LogLine; trialId: string }) {
  const words = sayObservation(line);
  const ownWords = line.kind === "note" || line.kind === "withdrawn";
  return (
    <li>
      <Link href={`/trials/${trialId}/log/${line.plotId}`}>{line.plotCode}</Link> {line.variety}:{" "}
      {line.state === "in force" ? words : <del>{words}</del>}
      {line.state !== "in force" && <span className={styles.soft}> ({line.state})</span>}
      <SkewOf line={line} />
      {line.note && !ownWords && <span className={styles.soft}> “{line.note}”</span>}
      <PictureOf line={line} of={`${line.plotCode} ${line.variety}`} />
    </li>
  );
}
