import type { Metadata } from "next";
import { DataTable } from "@/app/_ui/data-table";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { type FilesView, filesView } from "@/lib/service/files-view";
import { openHouse } from "@/lib/service/house";
import { daysBetween, sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Files" };

/** What the garden's records are kept in: the last good backup first, then what can be taken out. */
export default function FilesPage() {
  const files = filesView(openHouse());
  return (
    <>
      <PageHeader title="Files" lead={lastBackup(files)} />
      <Section title="The whole garden">
        <p>
          <a href="/files/garden-file" download>
            Download the garden’s file
          </a>
        </p>
        <p className={styles.soft}>
          A copy is made and checked at this moment, then handed out. Kept on another machine or a stick, it
          is a garden that can be put back.
        </p>
      </Section>
      <Section title="One trial">
        {files.trials.length === 0 && <p>There is no trial yet.</p>}
        <ul className={styles.lines}>
          {files.trials.map(({ id, question, plantedOn }) => (
            <li key={id}>
              <a href={`/trials/${id}/export`} download>
                {question}
              </a>
              <p className={styles.aside}>
                Planted {sayDay(plantedOn, true)}. With a licence: <Licences id={id} files={files} />
              </p>
            </li>
          ))}
        </ul>
        <p className={styles.soft}>
          A zip of plain tables (plots, observations, what was changed) with their description, for any
          spreadsheet or statistics program. It names who recorded what; the garden’s place is not in it.
          Without a licence nobody else is given leave to use it.
        </p>
        <ul className={styles.soft}>
          {files.licences.map(({ name, title }) => (
            <li key={name}>{title}.</li>
          ))}
        </ul>
      </Section>
      <Section title="Backups">
        <p>
          A copy is made every day while Proving Bed runs, and one before an update changes the file. The last
          copy of each of the last 14 days stays, and the last of every month stays for good.
        </p>
        {files.copies.length > 0 && (
          <DataTable
            caption="Backups, newest first"
            captionHidden
            columns={[
              { heading: "Made on", whole: true },
              { heading: "At" },
              { heading: "Megabytes", numeric: true },
              { heading: "File" },
            ]}
            rows={files.copies.map(({ name, madeOn, time, megabytes }) => [
              sayDay(madeOn, true),
              time,
              megabytes.toFixed(1),
              name,
            ])}
          />
        )}
        <p>
          They lie in <code>{files.folder}</code>. To go back to one, stop Proving Bed and type{" "}
          <code>npm run restore -- FILE</code> with its name; the copy is checked first and the present file
          is kept aside.
        </p>
      </Section>
    </>
  );
}

function Licences({ id, files }: { id: string; files: FilesView }) {
  return files.licences.map(({ name }, position) => (
    <span key={name}>
      {position > 0 && ", "}
      <a href={`/trials/${id}/export?licence=${name}`} download>
        {name}
      </a>
    </span>
  ));
}

function lastBackup({ copies, today }: FilesView): string {
  const [last] = copies;
  if (!last) return "There is no backup yet.";
  const age = daysBetween(last.madeOn, today);
  const ago = age <= 0 ? "today" : age === 1 ? "yesterday" : `${age} days ago`;
  return `Last good backup: ${sayDay(last.madeOn, true)} at ${last.time}, ${ago}.`;
}
