import type { Metadata } from "next";
import { notFound } from "next/navigation";
import type { ReactNode } from "react";
import { DemoNote } from "@/app/_ui/demo-note";
import { PageHeader } from "@/app/_ui/page-header";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";
import { TrialPlaces } from "./_parts/trial-places";

interface TrialProps {
  params: Promise<{ id: string }>;
}

export async function generateMetadata({ params }: TrialProps): Promise<Metadata> {
  const trial = trialView(openHouse(), (await params).id);
  const title = trial?.question ?? "No such trial";
  return { title: { template: `%s · ${title} · Proving Bed`, default: title } };
}

/** A trial's pages: the question always on top, then its places from plan to verdict. */
export default async function TrialLayout({ children, params }: TrialProps & { children: ReactNode }) {
  const { id } = await params;
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  const state =
    trial.state === "closed"
      ? `closed on ${sayDay(trial.closedOn ?? trial.today, true)}`
      : trial.state === "running"
        ? `in the ground since ${sayDay(trial.plantedOn, true)}`
        : `to be planted out on ${sayDay(trial.plantedOn, true)}`;
  return (
    <>
      <DemoNote />
      <PageHeader
        title={trial.question}
        lead={`${beginSentence(trial.crop)} in ${trial.beds.map((bed) => bed.name).join(" and ")}; ${state}.`}
      />
      <TrialPlaces trialId={id} />
      {children}
    </>
  );
}
