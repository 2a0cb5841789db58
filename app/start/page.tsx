import type { Metadata } from "next";
import Link from "next/link";
import { PageHeader } from "@/app/_ui/page-header";
import { gardenName } from "@/lib/service/garden-name";
import { openHouse } from "@/lib/service/house";
import { GardenForm } from "./_parts/garden-form";

export const metadata: Metadata = { title: "Start my own garden" };

export default function StartPage() {
  const garden = gardenName(openHouse());
  if (garden)
    return (
      <>
        <PageHeader title="There is a garden here already" />
        <p>
          It is called {garden.name}. One data folder keeps one garden: to keep another, start the program
          with <code>PROVING_BED_DATA</code> set to another folder.
        </p>
        <p>
          <Link href="/">Back to today</Link>
        </p>
      </>
    );
  return (
    <>
      <PageHeader
        title="Start my own garden"
        lead="Where the garden lies tells how long its days are; its time zone tells which day a walk late in the evening belongs to. Nothing leaves this machine."
      />
      <GardenForm
        timeZone={Intl.DateTimeFormat().resolvedOptions().timeZone}
        timeZones={Intl.supportedValuesOf("timeZone")}
      />
      <p>
        Or take in a whole garden from the zip of its records: <Link href="/files/import">Import</Link>.
      </p>
    </>
  );
}
