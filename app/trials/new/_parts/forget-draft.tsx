"use client";

import { useEffect } from "react";
import { dropDraft, readDraft } from "./draft";

/** On the page of a trial that now exists: its draft has done its work. */
export function ForgetDraft({ trialId }: { trialId: string }) {
  useEffect(() => {
    if (readDraft()?.trialId === trialId) dropDraft();
  }, [trialId]);
  return null;
}
