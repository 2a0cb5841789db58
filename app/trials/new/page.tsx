import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { PageHeader } from "@/app/_ui/page-header";
import { openHouse } from "@/lib/service/house";
import { openPlan } from "@/lib/service/open-plan";
import { PlanForm } from "./_parts/plan-form";

export const metadata: Metadata = { title: "Plan a trial" };

/** One page that grows downward: the question, the bed and the varieties first; then a plan that fits, to be changed. */
export default function NewTrialPage() {
  const plan = openPlan(openHouse());
  if (!plan.hasGarden) redirect("/");
  return (
    <>
      <PageHeader
        title="Plan a trial"
        lead="Say what you want to find out, where, and with what. A plan that fits the bed is then proposed; you may change all of it before it is saved."
      />
      <PlanForm plan={plan} />
    </>
  );
}
