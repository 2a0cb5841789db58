import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { SendButton } from "@/app/_ui/button";
import { DataTable } from "@/app/_ui/data-table";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextField } from "@/app/_ui/field";
import { fieldFaults } from "@/app/_ui/field-fault";
import styles from "@/app/_ui/page.module.css";
import { Working } from "@/app/_ui/working";
import { openHouse } from "@/lib/service/house";
import { sowingList } from "@/lib/service/sowing-list";
import { sayDay } from "@/lib/words/day";
import { PaperPlaces } from "../_parts/paper-places";

export const metadata: Metadata = { title: "Sowing list" };

interface SowingListProps {
  params: Promise<{ id: string }>;
  searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** What to sow, and how much of it, at each packet's germination and with spares: to be printed for the bench. */
export default async function SowingListPage({ params, searchParams }: SowingListProps) {
  const { id } = await params;
  const asked = Object.entries(await searchParams).map(([name, value]) => [
    name,
    Array.isArray(value) ? value.at(-1) : value,
  ]);
  const typed: Record<string, string | undefined> = Object.fromEntries(asked);
  const list = sowingList(openHouse(), id, typed);
  if (!list) notFound();
  const { lines } = list;
  const nameOf = (place: string) =>
    lines.find((line) => place === `germination.${line.entryId}`)?.variety ?? "Spares";
  const values = Object.fromEntries(Object.entries(typed).map(([name, value]) => [name, value ?? ""]));
  const faults = fieldFaults(list.faults, values, (place) => ({ label: nameOf(place) }));
  const seeds = (figure: number | null) => (figure === null ? "not known" : figure);
  return (
    <>
      <PaperPlaces trialId={id} here="/sowing-list" />
      <DataTable
        caption={`Sowing list, with ${list.spares} in 100 more as spares`}
        columns={[
          { heading: "Variety" },
          { heading: "Sow on" },
          { heading: "Plants wanted", numeric: true },
          { heading: "Comes up, in 100", numeric: true },
          { heading: "Seeds to sow", numeric: true },
          { heading: "Sown" },
          { heading: "Came up" },
        ]}
        rows={lines.flatMap((line) =>
          line.sowings.map((sowing) => [
            line.variety,
            sayDay(sowing.sownOn, true),
            sowing.plants,
            line.germination,
            seeds(sowing.seeds),
            "",
            "",
          ]),
        )}
      />
      <p>
        So many seeds give the plants and their spares on average; as often as not somewhat fewer come up.
        Keep the spares of each variety apart and alike: they fill gaps until the first look.
      </p>
      <div className={styles.screenOnly}>
        <Working
          summary="What comes up of each packet, and the spares"
          isOpen={faults.length > 0 || asked.length > 0}
        >
          <form method="get" noValidate>
            <ErrorSummary faults={faults} turn={faults.length > 0 ? 1 : 0} />
            <p>
              From a germination test, or from the packet. Where nothing is known, 80 in 100 is taken (common
              practice).
            </p>
            {lines.map((line) => (
              <TextField
                key={line.entryId}
                name={`germination.${line.entryId}`}
                label={line.variety}
                faults={faults}
                value={line.germination}
                width="short"
                inputMode="decimal"
                suffix="in 100"
              />
            ))}
            <TextField
              name="spares"
              label="Spares"
              hint="More plants than the plots want"
              faults={faults}
              value={list.spares}
              width="short"
              inputMode="decimal"
              suffix="in 100"
            />
            <SendButton act="reckon">Reckon the seeds</SendButton>
          </form>
        </Working>
        <p>This page prints on A4 or Letter, in black and white.</p>
      </div>
    </>
  );
}
