import type { Metadata } from "next";
import Link from "next/link";
import { PageHeader } from "@/app/_ui/page-header";
import { openHouse } from "@/lib/service/house";
import { importView } from "@/lib/service/import-view";
import { ImportDesk } from "./_parts/import-desk";

export const metadata: Metadata = { title: "Import" };

/** Old records come in: whatever they hold is looked at first, tried, and taken in whole or not at all. */
export default function ImportPage() {
  const { gardenName, trials, megabytes } = importView(openHouse());
  return (
    <>
      <PageHeader
        title="Import"
        over="Files"
        lead={
          gardenName
            ? "Tables from a spreadsheet, a trial’s folder, or what a phone could not send. A file is tried first; it is taken in whole, or not at all."
            : "There is no garden here yet: a whole one can be taken in from the zip of its records. Everything else comes into a garden."
        }
      />
      <ImportDesk hasGarden={gardenName !== null} trials={trials} megabytes={megabytes} />
      {!gardenName && (
        <p>
          <Link href="/start">Start my own garden</Link> instead.
        </p>
      )}
    </>
  );
}
