/** What is kept in the browser of a plan that is being written, so that Back, reload and a closed tab lose nothing. */
export interface Draft {
  /** The id that the trial will have; once there is a trial of that id, the draft is done with. */
  trialId: string;
  values: Record<string, string>;
}

const key = "proving-bed.plan-draft";

/** The draft in this browser; null when there is none, or when the browser keeps nothing. */
export function readDraft(): Draft | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(key) ?? "null");
    if (typeof kept !== "object" || kept === null || !("trialId" in kept) || !("values" in kept)) return null;
    const { trialId, values } = kept as Draft;
    const isWhole =
      typeof trialId === "string" &&
      typeof values === "object" &&
      Object.values(values).every((value) => typeof value === "string");
    return isWhole ? { trialId, values } : null;
  } catch {
    return null;
  }
}

export function keepDraft(draft: Draft): void {
  try {
    localStorage.setItem(key, JSON.stringify(draft));
  } catch {
    // A browser that keeps nothing (private, or full) still has the form itself.
  }
}

export function dropDraft(): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // As above: nothing was kept.
  }
}
