import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import styles from "@/app/_ui/page.module.css";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { PaperPlaces } from "../_parts/paper-places";
import sheetStyles from "./sheet.module.css";

export const metadata: Metadata = { title: "Field sheet" };

interface FieldSheetProps {
  params: Promise<{ id: string }>;
  searchParams: Promise<{ blind?: string }>;
}

const blanks = ["Date", "Who looked", "Weather", "Lowest temperature since last time", "Cover: on, open"];

/** A blank sheet for a day without a phone: a line for every plot in walking order, to be typed in at home. */
export default async function FieldSheetPage({ params, searchParams }: FieldSheetProps) {
  const { id } = await params;
  const isBlind = (await searchParams).blind === "yes";
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  const varieties = new Map(trial.entries.map((entry) => [entry.id, entry.variety]));
  return (
    <>
      <PaperPlaces trialId={id} here="/field-sheet" />
      <p className={styles.screenOnly}>
        Prints on A4 or Letter, in black and white; each bed begins a page.{" "}
        {isBlind ? (
          <Link href={`/trials/${id}/field-sheet`}>With the varieties’ names</Link>
        ) : (
          <Link href={`/trials/${id}/field-sheet?blind=yes`}>Without the varieties’ names</Link>
        )}
      </p>
      {trial.beds.map((bed) => (
        <div key={bed.id} className={sheetStyles.bed}>
          <div className={sheetStyles.head}>
            {blanks.map((words) => (
              <div key={words} className={sheetStyles.line}>
                {words}:
              </div>
            ))}
          </div>
          <p>
            Write what stands; a dash for a plot that was not looked at, 0 for one with nothing standing or
            nothing to pick.
          </p>
          <section
            className={sheetStyles.holder}
            // biome-ignore lint/a11y/noNoninteractiveTabindex: a sheet wider than the page scrolls, and must do so by keyboard
            tabIndex={0}
            aria-label={`${bed.name}, plot by plot`}
          >
            <table className={sheetStyles.sheet}>
              <caption>{bed.name}</caption>
              <thead>
                <tr>
                  <th scope="col">Plot</th>
                  {!isBlind && <th scope="col">Variety</th>}
                  <th scope="col">Set out</th>
                  <th scope="col" className={sheetStyles.write}>
                    Standing
                  </th>
                  <th scope="col" className={sheetStyles.wide}>
                    Lost, and to what
                  </th>
                  <th scope="col" className={sheetStyles.write}>
                    Picked, g
                  </th>
                  <th scope="col" className={sheetStyles.wide}>
                    Note
                  </th>
                </tr>
              </thead>
              <tbody>
                {trial.plots
                  .filter((plot) => plot.bedId === bed.id)
                  .map((plot) => (
                    <tr key={plot.id}>
                      <th scope="row">{plot.code}</th>
                      {!isBlind && <td>{varieties.get(plot.entryId)}</td>}
                      <td>{plot.plants}</td>
                      <td />
                      <td />
                      <td />
                      <td />
                    </tr>
                  ))}
              </tbody>
            </table>
          </section>
        </div>
      ))}
    </>
  );
}
