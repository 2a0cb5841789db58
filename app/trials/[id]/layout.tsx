import { notFound } from "next/navigation";
import type { ReactNode } from "react";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { TrialPlaces } from "./_parts/trial-places";

/** A trial's pages: the question always on top, then the five places from plan to verdict. */
export default async function TrialLayout({
  children,
  params,
}: {
  children: ReactNode;
  params: Promise<{ id: string }>;
}) {
  const { id } = await params;
  const trial = trialView(openHouse(), id);
  if (!trial) notFound();
  return (
    <>
      <h1>{trial.question}</h1>
      <TrialPlaces trialId={id} />
      {children}
    </>
  );
}
