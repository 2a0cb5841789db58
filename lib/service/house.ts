import type { Database } from "@/db/open";
import type { Instant } from "@/lib/words/instant";

/**
 * What every use case is handed: the open garden file, the clock, a maker of new ids (UUIDv7) and the folder that holds
 * the file. Tests, commands and the demo make their own, with their own clock.
 */
export interface House {
  database: Database;
  now(): Instant;
  newId(): string;
  dataFolder: string;
  /** Fills an empty file with the demo garden; there only where a person may ask for it. */
  loadDemo?(): void;
  /** Makes a verified copy of the garden's file and names it; there where the launcher lent it to the pages. */
  backUp?(): Promise<string>;
  /** Told of what should not have happened, where somebody reads it. */
  report?(fault: unknown): void;
}

const place = Symbol.for("proving-bed.house");
const shared = globalThis as { [place]?: House };

/** Leaves the house where the pages find it: pages are built apart from the launcher and share only the process. */
export function shareHouse(house: House): void {
  shared[place] = house;
}

/** The house that the launcher opened. */
export function openHouse(): House {
  const house = shared[place];
  if (!house) throw new Error("openHouse requires a server started by npm start or npm run dev");
  return house;
}
