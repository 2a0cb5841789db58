import type { Picture, PlotMarks } from "@/lib/sync/device/device-store";
import type { Draft } from "@/lib/sync/device/fact-draft";

/** Something done on a walkabout: its facts, and how it is said and taken back. */
export interface Act {
  drafts: Draft[];
  /** *A2: one plant gone to slugs.* */
  words: string;
  /** How it closes the bed on the screen; left out when it does not. */
  closes?: "looked" | "not-seen";
  /** Where marks are drawn from now on, by plot. */
  marks?: Record<string, PlotMarks>;
  /** Facts that it takes back: they leave the acts that can be undone, and so does this one. */
  takesBack?: string[];
  /** The cause used, for the row of recent ones. */
  cause?: string;
  /** Pictures that its facts name. */
  pictures?: Picture[];
}

/** Carries an act out; true once the phone has it. */
export type Perform = (act: Act) => Promise<boolean>;
