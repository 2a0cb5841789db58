import type { Metadata } from "next";
import { notFound, redirect } from "next/navigation";
import { Section } from "@/app/_ui/section";
import { openHouse } from "@/lib/service/house";
import { trialView } from "@/lib/service/trial-view";
import { CloseTrialForm } from "./_parts/close-trial-form";

export const metadata: Metadata = { title: "Close the trial" };

export default async function CloseTrialPage({ params }: { params: Promise<{ id: string }> }) {
  const trial = trialView(openHouse(), (await params).id);
  if (!trial) notFound();
  if (trial.state === "closed") redirect(`/trials/${trial.id}`);
  return (
    <Section title="Close the trial">
      <p>
        Closing ends the trial today and gives the bed back. Everything recorded stays, and what a phone still
        holds is taken when it comes home. It cannot be opened again.
      </p>
      <CloseTrialForm values={{ trialId: trial.id }} />
    </Section>
  );
}
