import type { FieldPack } from "@/lib/sync/field-pack";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { HarvestPart } from "@/lib/words/observation";
import type { Draft } from "./fact-draft";
import type { EntryChange, OutboxEntry } from "./outbox-entry";

/**
 * Where on a plot the gaps, the doubtful plants and the later fillings (by the day on which they were set there) are, by
 * the place of the mark in the drawing. Counts come from the facts alone; this lets a bed be drawn next week as it was seen.
 */
export type PlotMarks = Record<number, "gap" | "doubtful" | Day>;
export type MarksByPlot = Record<string, PlotMarks>;

/** One thing done on a walkabout, so that it can be taken back from where it was done. */
export interface WalkAct {
  /** The facts that it made; taking it back withdraws each. */
  factIds: string[];
  bedId: string;
  /** What was done, for reading: *A2: one plant gone to slugs*. */
  words: string;
  /** Whether it closed the bed. */
  closed: boolean;
  /** What was remembered of its plots' marks before it. */
  marksBefore: MarksByPlot;
}

/** A round of looking that is under way or has ended; all that is needed to resume it. */
export interface Walk {
  walkaboutId: string;
  startedOn: Day;
  /** The bed on the screen. */
  bedId: string;
  /** The day on a sheet of paper that this round enters; left out on a round of today. */
  paperOn?: Day;
  /** Whether the round goes plot by plot, each asked for in turn. */
  byPlot?: boolean;
  /** Beds closed on this round, by id: how. */
  closed: Record<string, "looked" | "not-seen" | "left out">;
  acts: WalkAct[];
  ended: boolean;
}

/** A day's weighing that is under way; all that is needed to resume it. */
export interface WeighIn {
  weighInId: string;
  startedOn: Day;
  trialId: string;
  pickedOn: Day;
  part: HarvestPart;
  /** Whether each one picked takes its plant with it, as a head or a root does. */
  whole: boolean;
}

/** What the phone keeps besides facts. */
export interface KeptThings {
  /** Who walks. */
  by: string;
  pack: { pack: FieldPack; etag: string | null; fetchedAt: Instant };
  walk: Walk;
  weighIn: WeighIn;
  marks: MarksByPlot;
  /** Causes last used, newest first. */
  recentCauses: string[];
  /** How far the phone's clock was ahead of home's when last answered. */
  clockAheadMs: number;
  /** By whose day the grower chose to record when the two clocks were so far apart. */
  clockAnswer: { aheadMs: number; day: "home" | "phone" };
  /** The hand that holds nothing else. */
  hand: "left" | "right";
}

export type Kept = { [Key in keyof KeptThings]: KeptThings[Key] | null };

export const keptKeys = [
  "by",
  "pack",
  "walk",
  "weighIn",
  "marks",
  "recentCauses",
  "clockAheadMs",
  "clockAnswer",
  "hand",
] as const satisfies readonly (keyof KeptThings)[];

/** A picture as it is kept on the phone until home has it. */
export interface Picture {
  /** Its name: the hash of its bytes. */
  sha256: string;
  bytes: ArrayBuffer;
}

/** The names of the pictures that are on this phone only. */
export interface HeldPictures {
  waiting: string[];
  /** Home could not take them; they stay here. */
  refused: string[];
}

/** What recording needs besides the drafts; ids and moment are arguments so that the store has no clock. */
export interface Recording {
  drafts: Draft[];
  /** One id for each draft. */
  ids: string[];
  recordedAt: Instant;
  /** By how many seconds this device's clock is ahead of home's, where it knows. */
  clockSkewS?: number | null;
  /** Pictures that the drafts name, kept in the same transaction. */
  pictures?: Picture[];
  /** Things kept in the same transaction as the facts. */
  alongside: Partial<Kept>;
  /** Refused facts that these facts settle. */
  settles: string[];
}

/**
 * Where a phone keeps its facts. Every method resolves only after its transaction is complete on the disk, and a
 * failed one has changed nothing. `record` counts `deviceSequence` strictly up in the same transaction as the facts.
 */
export interface DeviceStore {
  record(recording: Recording): Promise<OutboxEntry[]>;
  /** The entries in the order in which the facts were made: all of them, or so many of those after a sequence. */
  entries(page?: { after: number; most: number }): Promise<OutboxEntry[]>;
  change(changes: EntryChange[]): Promise<void>;
  /** Forgets entries that are `home`; any other is left where it is. */
  forgetHome(ids: string[]): Promise<void>;
  pictures(): Promise<HeldPictures>;
  pictureBytes(sha256: string): Promise<ArrayBuffer | null>;
  /** What home answered for a picture: once it has it, the bytes here are let go. */
  settlePicture(sha256: string, answer: "home" | "refused"): Promise<void>;
  /** What is kept, all of it or what is named here; the rest is then null. */
  kept(keys?: readonly (keyof KeptThings)[]): Promise<Kept>;
  keep(things: Partial<Kept>): Promise<void>;
}
