import { readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { findGarden } from "@/db/queries/find-garden";
import { type Day, dayAtGarden } from "@/lib/words/day";
import { type Instant, instantOf } from "@/lib/words/instant";
import { backupFolder } from "./backup-names";
import type { House } from "./house";
import { listBackups } from "./list-backups";

/** A copy that can be put back. */
export interface CopyLine {
  name: string;
  kind: "backup" | "kept before an update" | "kept when a copy was put back";
  madeOn: Day;
  /** By the garden's clock, `14:05`. */
  time: string;
  megabytes: number;
}

/** How the last putting back ended, as the page says it. */
export interface PutBackTold {
  copy: string;
  fault: string | null;
  aside: string | null;
}

export interface PutBackView {
  gardenName: string | null;
  /** The latest first. */
  copies: CopyLine[];
  /** `under way` until it has ended; null when none was begun since the program was started. */
  last: PutBackTold | "under way" | null;
}

/** Files kept aside before the garden's own was changed: they stay until a person takes them away. */
function keptAside({ dataFolder }: House) {
  const folder = backupFolder(dataFolder);
  let names: string[] = [];
  try {
    names = readdirSync(folder);
  } catch (fault) {
    if ((fault as NodeJS.ErrnoException).code !== "ENOENT") throw fault;
  }
  return names.flatMap((name) => {
    const kind = name.startsWith("before-update-")
      ? ("kept before an update" as const)
      : name.startsWith("before-restore-")
        ? ("kept when a copy was put back" as const)
        : null;
    const found = kind && name.endsWith(".sqlite") && statSync(join(folder, name), { throwIfNoEntry: false });
    return kind && found
      ? [{ name, kind, madeAt: instantOf(Math.floor(found.mtimeMs)), bytes: found.size }]
      : [];
  });
}

/** Every copy that can be put back, and how the last putting back ended. */
export function putBackView(house: House): PutBackView {
  const garden = findGarden(house.database);
  const timeZone = garden?.timeZone ?? "UTC";
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone });
  const line = (copy: {
    name: string;
    kind: CopyLine["kind"];
    madeAt: Instant;
    bytes: number;
  }): CopyLine => ({
    name: copy.name,
    kind: copy.kind,
    madeOn: dayAtGarden(copy.madeAt, timeZone),
    time: clock.format(new Date(copy.madeAt)),
    megabytes: copy.bytes / 1_000_000,
  });
  const all = [
    ...listBackups(house).map((copy) => ({ ...copy, kind: "backup" as const })),
    ...keptAside(house),
  ];
  const { lastPutBack: last } = house;
  return {
    gardenName: garden?.name ?? null,
    copies: all.sort((one, other) => (one.madeAt < other.madeAt ? 1 : -1)).map(line),
    last:
      last === null ? "under way" : last ? { copy: last.copy, fault: last.fault, aside: last.aside } : null,
  };
}
