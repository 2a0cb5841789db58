import { findGarden } from "@/db/queries/find-garden";
import { listTrials } from "@/db/queries/list-trials";
import { exportLicences } from "@/lib/records/data-package";
import type { Day } from "@/lib/words/day";
import { dayAtGarden } from "@/lib/words/day";
import { backupFolder } from "./backup-names";
import type { House } from "./house";
import { listBackups } from "./list-backups";
import { todayAt } from "./today-at";

export interface CopyLine {
  name: string;
  madeOn: Day;
  /** By the garden's clock, `14:05`. */
  time: string;
  megabytes: number;
}

export interface FilesView {
  gardenName: string | null;
  today: Day;
  folder: string;
  /** Newest first; all of them whole when they were made. */
  copies: CopyLine[];
  /** The latest planted first. */
  trials: { id: string; question: string; plantedOn: Day }[];
  licences: { name: string; title: string }[];
}

/** The garden's copies and what can be taken out of it, as the *Files* page tells of them. */
export function filesView(house: House): FilesView {
  const garden = findGarden(house.database);
  const timeZone = garden?.timeZone ?? "UTC";
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone });
  return {
    gardenName: garden?.name ?? null,
    today: todayAt(house),
    folder: backupFolder(house.dataFolder),
    copies: listBackups(house).map(({ name, madeAt, bytes }) => ({
      name,
      madeOn: dayAtGarden(madeAt, timeZone),
      time: clock.format(new Date(madeAt)),
      megabytes: bytes / 1_000_000,
    })),
    trials: listTrials(house.database).map(({ id, question, plantedOn }) => ({ id, question, plantedOn })),

    licences: exportLicences.map(({ name, title }) => ({ name, title })),
  };
}
