import type { Metadata } from "next";
import Link from "next/link";
import { openHouse } from "@/lib/service/house";
import { trialLog } from "@/lib/service/trial-log";
import { sayDay } from "@/lib/words/day";
import { sayObservation } from "@/lib/words/say-observation";

export const metadata: Metadata = { title: "Log" };

/** Everything that was recorded in a trial, the latest day first; what was corrected or withdrawn stays, struck through. */
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
      <p>
        Nothing has been recorded yet. <Link href="/walkabout">Start a walkabout</Link>
      </p>
    );
  const days = [...new Set(lines.map((line) => line.seenOn))];
  return (
    <>
      {days.map((day) => (
        <section key={day}>
          <h2>{sayDay(day, true)}</h2>
          <ul className="ruled">
            {lines
              .filter((line) => line.seenOn === day)
              .map((line) => {
                const words = `${line.plotCode} ${line.variety}: ${sayObservation(line)}`;
                return (
                  <li key={line.id}>
                    {line.state === "in force" ? words : <del>{words}</del>}
                    {line.state !== "in force" && <span className="soft"> ({line.state})</span>}
                    {line.note && line.kind !== "note" && line.kind !== "withdrawn" && (
                      <span className="soft"> “{line.note}”</span>
                    )}
                    <span className="soft"> {line.by}</span>
                  </li>
                );
              })}
          </ul>
        </section>
      ))}
      {nextBefore && (
        <p>
          <Link href={`/trials/${id}/log?before=${nextBefore}`}>Earlier days</Link>
        </p>
      )}
    </>
  );
}
