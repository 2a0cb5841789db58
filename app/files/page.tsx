import type { Metadata } from "next";
import Link from "next/link";
import { LinkButton, SendButton } from "@/app/_ui/button";
import { SelectField } from "@/app/_ui/field";
import form from "@/app/_ui/form.module.css";
import styles from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import { type FilesView, filesView } from "@/lib/service/files-view";
import { openHouse } from "@/lib/service/house";
import { daysBetween, sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Files" };

/** What the garden's records are kept in: the last good backup first, then what is taken out, put back and taken in. */
export default function FilesPage() {
  const files = filesView(openHouse());
  return (
    <>
      <PageHeader title="Files" lead={lastBackup(files)} />
      <Section title="Keep a copy elsewhere">
        <p>
          <a href="/files/garden-file" download>
            Download the garden’s file
          </a>
        </p>
        <p className={styles.soft}>
          A backup is made and read through at this moment, then handed out. Kept on another machine or a
          stick, it can be put back when this machine is gone. It is handed out on the computer at home only.
          Pictures lie beside it and come with the whole garden below.
        </p>
      </Section>
      <Section title="Take the records out">
        <h3>The whole garden</h3>
        <p>
          A zip of plain tables with their description, and the pictures, for any spreadsheet or statistics
          program. It names who recorded what.
        </p>
        <form action="/files/garden-package" method="get">
          <Licence files={files} />
          <div className={form.tiles}>
            <label className={form.tile}>
              <input type="checkbox" name="place" value="exact" />
              <span>
                Tell exactly where the garden lies
                <span className={form.tileMore}>otherwise to a tenth of a degree, some 10 km</span>
              </span>
            </label>
          </div>
          <div className={form.buttons}>
            <SendButton>Download the whole garden</SendButton>
          </div>
        </form>
        <details>
          <summary>One trial</summary>
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
          {files.more && (
            <p>
              Older ones are taken out from their own log: <Link href="/trials">all trials</Link>.
            </p>
          )}
          <p className={styles.soft}>The garden’s place is not in it.</p>
        </details>
        <details>
          <summary>One table</summary>
          <ul className={styles.many}>
            {files.tables.map(({ name, title }) => (
              <li key={name}>
                <a href={`/files/tables/${name}`} download>
                  {title}
                </a>
              </li>
            ))}
          </ul>
        </details>
        <details>
          <summary>What the licences say</summary>
          <ul>
            {files.licences.map(({ name, title }) => (
              <li key={name}>{title}.</li>
            ))}
          </ul>
          <p>Without a licence nobody else is given leave to use it.</p>
        </details>
      </Section>
      <Section title="Put a copy back">
        <p>
          The garden as it was at some earlier time. A copy is read through first, you see what it holds, and
          what is here now is kept aside. This is done on the computer at home.
        </p>
        <p>
          <LinkButton href="/files/put-back" manner="plain">
            Choose a copy
          </LinkButton>
        </p>
      </Section>
      <Section title="Take old records in">
        <p>
          <Link href="/files/import">Import from a spreadsheet, a trial’s folder or a phone’s file</Link>
        </p>
      </Section>
      <Section title="Backups">
        <p>
          A backup is made every day while Proving Bed runs, and one before an import or an update changes the
          file. The last of each of the last 14 days stays, and the last of every month stays for good.{" "}
          {files.backups > 0 && `There ${files.backups === 1 ? "is one" : `are ${files.backups}`} now.`}
        </p>
        <p>
          They lie in <code>{files.folder}</code>. With Proving Bed stopped,{" "}
          <code className={styles.typed}>npm run restore -- FILE</code> puts one back as well.
        </p>
      </Section>
      <Section title="Settings">
        <p>
          <Link href="/people">People and phones</Link>: who records, and whose phones may come in.
        </p>
      </Section>
    </>
  );
}

function Licence({ files }: { files: FilesView }) {
  return (
    <SelectField
      name="licence"
      label="Licence"
      value=""
      faults={[]}
      width="full"
      options={[
        { value: "", words: "None: for yourself" },
        ...files.licences.map(({ name, title }) => ({ value: name, words: title })),
      ]}
    />
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

function lastBackup({ last, today }: FilesView): string {
  if (!last) return "There is no backup yet.";
  const age = daysBetween(last.madeOn, today);
  const ago = age <= 0 ? "today" : age === 1 ? "yesterday" : `${age} days ago`;
  return `Last good backup: ${sayDay(last.madeOn, true)} at ${last.time}, ${ago}.`;
}
