import type { Metadata } from "next";
import { redirect } from "next/navigation";
import { PageHeader } from "@/app/_ui/page-header";
import { openHouse } from "@/lib/service/house";
import { openPlan } from "@/lib/service/open-plan";
import { trialView } from "@/lib/service/trial-view";
import { undecidedEntries } from "@/lib/service/undecided-entries";
import { beginFrom } from "./_parts/begin-from";
import { PlanForm } from "./_parts/plan-form";

export const metadata: Metadata = { title: "Plan a trial" };

/** One page that grows downward: the question, the bed and the varieties first; then a plan that fits, to be changed. */
export default async function NewTrialPage({
  searchParams,
}: {
  searchParams: Promise<{ from?: string; only?: string }>;
}) {
  const house = openHouse();
  const plan = openPlan(house);
  if (!plan.hasGarden) redirect("/");
  const { from, only } = await searchParams;
  const old = typeof from === "string" ? trialView(house, from) : null;
  const undecided = old && only === "undecided" ? undecidedEntries(house, old.id) : null;
  return (
    <>
      <PageHeader
        title="Plan a trial"
        lead="Say what you want to find out, where, and with what. A plan that fits the bed is then proposed; you may change all of it before it is saved."
      />
      {old && (
        <p>
          Begun from “{old.question}”{undecided ? ", with what was to be tried once more" : ""}. Choose its
          bed and look through the rest.
        </p>
      )}
      <PlanForm plan={plan} begun={old && beginFrom(old, undecided)} />
    </>
  );
}
