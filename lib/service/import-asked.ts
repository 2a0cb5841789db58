import * as z from "zod/mini";
import { importKinds } from "@/db/schema/import";
import type { ColumnMapping } from "@/lib/records/column-mapping";
import { type DayOrder, dayOrders } from "@/lib/records/file-day";
import type { Day } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import type { Instant } from "@/lib/words/instant";

export { type ImportKind, importKinds } from "@/db/schema/import";

const shortName = z.string().check(z.trim(), z.maxLength(80));

export const mappingSchema = z.record(
  z.string().check(z.maxLength(40)),
  z.union([
    z.object({ column: z.int().check(z.minimum(0)) }),
    z.object({ same: z.string().check(z.maxLength(120)) }),
  ]),
);

/** What the page says of files that it sent: what they hold, and how they are to be read. */
export const importAskedSchema = z.object({
  kind: z.enum(importKinds),
  /** The trial that observations belong to. */
  trialId: z.nullable(z.string().check(z.maxLength(80))),
  mapping: mappingSchema,
  dayOrder: z.nullable(z.enum(dayOrders)),
  /** Leave out rows without a figure. */
  skipBlank: z.boolean(),
  /** What a trial's files may leave open. */
  trial: z.object({
    question: z.string().check(z.trim(), z.maxLength(300)),
    crop: shortName,
    check: shortName,
  }),
});

/** See `importAskedSchema`. */
export interface ImportAsked {
  kind: z.output<typeof importAskedSchema>["kind"];
  trialId: string | null;
  mapping: ColumnMapping;
  dayOrder: DayOrder | null;
  skipBlank: boolean;
  trial: { question: string; crop: string; check: string };
}

/** What was found in files, or done with them. */
export type ImportAnswer =
  /** Nothing was taken in. `count` counts every fault; the list may end earlier. */
  | { state: "faulty"; faults: Fault[]; count: number }
  /** Dates of numbers only that could be two days: which comes first is to be asked once. */
  | { state: "ambiguous"; example: string; place: string; readings: Record<DayOrder, Day> }
  /** `ready`: it could be taken in. `done`: it is, and on the disk. */
  | {
      state: "ready" | "done";
      rows: number;
      added: number;
      already: number;
      /** What else there is to know, a sentence each. */
      said: string[];
      trialId: string | null;
      replies: UnsentReply[];
    }
  | { state: "stopped" };

/** The answer for one fact of a phone's file. */
export interface UnsentReply {
  what: string;
  seenOn: string;
  by: string;
  answer: string;
}

/** How an import hears that it is to stop. */
export interface ImportSteps {
  isStopped(): boolean;
}

/** Thrown within the reading of a file when a person stops it, so that whatever was begun is undone. */
export class ImportStopped extends Error {}

/** When and from where: the same for everything that comes with one import. */
export interface ImportOccasion {
  /** Names what was taken in, in `imported_file`. */
  id: string;
  at: Instant;
  contentHash: string;
}
