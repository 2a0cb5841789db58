import type { Database } from "@/db/open";
import type { RecordCount } from "@/db/queries/count-records";
import type { Instant } from "@/lib/words/instant";

/** Where phones on the home network find this house. */
export interface PhoneDoor {
  /** Beginnings of addresses, `https://workshop.local:3443`, the one to offer first in front. */
  addresses: string[];
  /** The pages that hand out the certificate of the house, and its fingerprint; null with a certificate from elsewhere. */
  trust: { addresses: string[]; fingerprint: string } | null;
}

/** How putting a copy back ended. */
export interface PutBackEnd {
  at: Instant;
  /** The name of the copy. */
  copy: string;
  /** Why the garden was left as it was; null when the copy is in its place. */
  fault: string | null;
  /** The name, in `backups`, of the file that was there before. */
  aside: string | null;
}

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
  /** Reads a copy through aside from the pages and says what it holds; rejects, with the reason, when it cannot be put back. */
  lookAtCopy?(file: string): Promise<RecordCount>;
  /** Begins to put a copy in the place of the garden's file, once no request is under way. */
  putBack?(file: string): void;
  /** Null while one is under way, not there before the first. */
  lastPutBack?: PutBackEnd | null;
  /** There where the launcher listens for phones. */
  phoneDoor?: PhoneDoor;
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
