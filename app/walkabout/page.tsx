import type { Metadata } from "next";
import { KeepOffline } from "@/app/offline/keep-offline";
import { Walkabout } from "./_parts/walkabout";

export const metadata: Metadata = { title: "Walkabout" };
export const dynamic = "force-dynamic";

/** The shell of the walkabout: it holds no data, so that a phone may keep it for when there is no signal. */
export default function WalkaboutPage() {
  return (
    <>
      <KeepOffline />
      <Walkabout />
    </>
  );
}
