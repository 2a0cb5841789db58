import type { Metadata } from "next";
import { KeepOffline } from "@/app/offline/keep-offline";
import { WeighInScreen } from "./_parts/weigh-in-screen";

export const metadata: Metadata = { title: "Weigh-in" };
export const dynamic = "force-dynamic";

/** The shell of the weigh-in: it holds no data, so that a phone may keep it for when there is no signal. */
export default function WeighInPage() {
  return (
    <>
      <KeepOffline />
      <WeighInScreen />
    </>
  );
}
