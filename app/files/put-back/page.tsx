import type { Metadata } from "next";
import Link from "next/link";
import { LinkButton, SendButton } from "@/app/_ui/button";
import { DataTable } from "@/app/_ui/data-table";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { type CopyLooked, lookAtCopy } from "@/lib/service/look-at-copy";
import { type PutBackTold, putBackView } from "@/lib/service/put-back-view";
import { sayDay } from "@/lib/words/day";
import { SendCopy } from "./_parts/send-copy";

export const metadata: Metadata = { title: "Put a copy back" };

/** The garden as it was at some earlier time: a copy is chosen, looked at beside what is there now, and put back. */
export default async function PutBackPage({
  searchParams,
}: {
  searchParams: Promise<{ copy?: string; ended?: string }>;
}) {
  const { copy, ended } = await searchParams;
  const house = openHouse();
  const { last, copies } = putBackView(house);
  if (ended !== undefined && last !== null) return <Ended last={last} />;
  const looked = copy === undefined ? null : await lookAtCopy(house, copy);
  if (looked?.ok) return <Look looked={looked.value} />;
  return (
    <>
      <PageHeader
        title="Put a copy back"
        over="Files"
        lead="A copy is read through first, and nothing changes before you have seen what it holds."
      />
      {looked && (
        <p className={styles.caution} role="alert">
          <strong>This copy cannot be put back.</strong> Found: {looked.faults[0].found}. Wanted:{" "}
          {looked.faults[0].wanted}.
        </p>
      )}
      <Section title="A file from elsewhere">
        <SendCopy />
      </Section>
      <Section title="Kept here">
        {copies.length === 0 && <p>There is no copy here yet.</p>}
        {copies.length > 0 && (
          <DataTable
            caption="Copies, the latest first"
            captionHidden
            columns={[
              { heading: "Made", whole: true },
              { heading: "Kind" },
              { heading: "MB", numeric: true },
              { heading: "What it holds" },
            ]}
            rows={copies.map(({ name, kind, madeOn, time, megabytes }) => [
              `${sayDay(madeOn, true)}, ${time}`,
              kind,
              megabytes.toFixed(1),
              <a key={name} href={`/files/put-back?copy=${name}`}>
                Look at it
                <span className={styles.hidden}>
                  : {sayDay(madeOn, true)}, {time}
                </span>
              </a>,
            ])}
          />
        )}
      </Section>
    </>
  );
}

function Look({ looked: { name, holds, present } }: { looked: CopyLooked }) {
  const day = (seen: typeof holds.lastSeenOn) => (seen ? sayDay(seen, true) : "nothing yet");
  const count = (value: number) => value.toLocaleString("en-GB");
  return (
    <>
      <PageHeader
        title="Put this copy back?"
        over="Files"
        lead="The copy is whole. This is what it holds, beside what is here now."
      />
      <DataTable
        caption="The copy and the garden as it is now"
        captionHidden
        columns={[{ heading: "What" }, { heading: "In the copy" }, { heading: "Here now" }]}
        rows={[
          ["Garden", holds.gardenName ?? "none", present.gardenName ?? "none"],
          ["Trials", count(holds.trials), count(present.trials)],
          ["Observations", count(holds.observations), count(present.observations)],
          ["Last seen", day(holds.lastSeenOn), day(present.lastSeenOn)],
        ]}
      />
      <ul>
        <li>
          Everything stands still for some seconds, then the garden is as it was when the copy was made.
        </li>
        <li>
          What was recorded since is not in it. It stays in the file that is here now, which is kept aside and
          can be put back from this page in the same way.
        </li>
        <li>
          Phones have to be paired again. What they have not sent yet stays on them and is taken in
          afterwards.
        </li>
        <li>Should anything go wrong, the file that is here now stays in its place.</li>
      </ul>
      <form action="/files/put-back/begin" method="post">
        <input type="hidden" name="copy" value={name} />
        <div className={styles.acts}>
          <SendButton manner="main">Put it back</SendButton>
          <LinkButton href="/files/put-back" manner="plain">
            Leave everything as it is
          </LinkButton>
        </div>
      </form>
    </>
  );
}

function Ended({ last }: { last: PutBackTold | "under way" }) {
  if (last === "under way")
    return (
      <>
        <meta httpEquiv="refresh" content="2" />
        <PageHeader title="A copy is being put back" over="Files" lead="This page looks again by itself." />
      </>
    );
  if (last.fault !== null)
    return (
      <>
        <PageHeader title="Nothing was put back" over="Files" />
        <p className={styles.caution}>
          <strong>The garden is as it was before.</strong> {last.fault}.
        </p>
        <p>
          <Link href="/files/put-back">Choose again</Link>
        </p>
      </>
    );
  return (
    <>
      <PageHeader title="The copy is in its place" over="Files" />
      <p>
        The garden is as it was in {last.copy}. The file that was there before is kept as {last.aside}; it can
        be put back in the same way.
      </p>
      <p>
        <Link href="/">See what is due today</Link>
      </p>
    </>
  );
}
