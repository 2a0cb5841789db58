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
import { type SowingLine, sowingList } from "@/lib/service/sowing-list";
import { sayDay } from "@/lib/words/day";
import { inAHundred } from "@/lib/words/say-number";
import { PaperPlaces } from "../_parts/paper-places";
import { GerminationForm } from "./_parts/germination-form";

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
  const isTested = lines.some((line) => line.test !== null);
  const seeds = (figure: number | null) => (figure === null ? "not known" : figure);
  return (
    <>
      <PaperPlaces trialId={id} here="/sowing-list" />
      <DataTable
        caption={`Sowing list, with ${list.spares} in 100 more as spares`}
        columns={[
          { heading: "Variety" },
          { heading: "Sow on", whole: true },
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
            comesUp(line),
            sowing.seedsToBeSure === null || sowing.seeds === null
              ? seeds(sowing.seeds)
              : `${sowing.seeds} (${sowing.seedsToBeSure})`,
            "",
            "",
          ]),
        )}
      />
      <p>
        So many seeds give the plants and their spares on average; as often as not somewhat fewer come up.{" "}
        {isTested &&
          "Where a packet was tested, what comes up may lie anywhere between the two figures after it, and the seeds in brackets do even at the lower one. "}
        Keep the spares of each variety apart and alike: they fill gaps until the first look.
      </p>
      <div className={styles.screenOnly}>
        <Working summary="Tests of what comes up" isOpen={isTested}>
          <p>
            Lay some seeds of each packet on damp paper in the warm, and count those that have come up after a
            week or two. Fifty seeds tell it to within about twelve in 100. The last test of a packet is the
            one that counts.
          </p>
          <GerminationForm
            trialId={id}
            varieties={lines.map(({ entryId, variety }) => ({ entryId, variety }))}
            values={Object.fromEntries(lines.flatMap(testValues))}
          />
        </Working>
        <Working
          summary="What comes up of each packet, and the spares"
          isOpen={faults.length > 0 || asked.length > 0}
        >
          <form method="get" noValidate>
            <ErrorSummary faults={faults} turn={faults.length > 0 ? 1 : 0} />
            <p>
              From the packet; it goes before a test. Where nothing is known, 80 in 100 is taken (common
              practice).
            </p>
            {lines.map((line) => (
              <TextField
                key={line.entryId}
                name={`germination.${line.entryId}`}
                label={line.variety}
                faults={faults}
                value={typed[`germination.${line.entryId}`] ?? (line.test ? "" : line.germination)}
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

/** What comes up of a packet in 100, with the limits that its test leaves. */
function comesUp({ germination, test, sowings }: SowingLine): string {
  const isFromTest = sowings.some((sowing) => sowing.seedsToBeSure !== null) || test?.cameUp === 0;
  if (!test || !isFromTest) return germination;
  return `${germination} (${inAHundred(test.low)} to ${inAHundred(test.high)})`;
}

function testValues({ entryId, test }: SowingLine): [string, string][] {
  if (!test) return [];
  return [
    [`seeds.${entryId}`, String(test.seeds)],
    [`cameUp.${entryId}`, String(test.cameUp)],
    [`afterDays.${entryId}`, String(test.afterDays)],
  ];
}
