import { findGarden } from "@/db/queries/find-garden";
import { listLatestTrials } from "@/db/queries/list-latest-trials";
import { exportLicences } from "@/lib/records/data-package";
import { gardenTables } from "@/lib/records/garden-tables";
import type { Day } from "@/lib/words/day";
import { dayAtGarden } from "@/lib/words/day";
import { backupFolder } from "./backup-names";
import type { House } from "./house";
import { listBackups } from "./list-backups";
import { todayAt } from "./today-at";

/** A year's trials or so; older ones are taken out from their own pages. */
const trialsShown = 12;

export interface FilesView {
  gardenName: string | null;
  today: Day;
  folder: string;
  /** The newest backup, whole when it was made; the time is by the garden's clock, `14:05`. */
  last: { madeOn: Day; time: string } | null;
  backups: number;
  /** The latest planted first; `more` when there are others. */
  trials: { id: string; question: string; plantedOn: Day }[];
  more: boolean;
  licences: { name: string; title: string }[];
  tables: { name: string; title: string }[];
}

/** When the garden was last backed up, and what can be taken out of it, as the *Files* page tells of them. */
export function filesView(house: House): FilesView {
  const garden = findGarden(house.database);
  const timeZone = garden?.timeZone ?? "UTC";
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit", timeZone });
  const backups = listBackups(house);
  const [last] = backups;
  const trials = listLatestTrials(house.database, trialsShown + 1);
  return {
    gardenName: garden?.name ?? null,
    today: todayAt(house),
    folder: backupFolder(house.dataFolder),
    last: last
      ? { madeOn: dayAtGarden(last.madeAt, timeZone), time: clock.format(new Date(last.madeAt)) }
      : null,
    backups: backups.length,
    trials: trials.slice(0, trialsShown),
    more: trials.length > trialsShown,
    licences: exportLicences.map(({ name, title }) => ({ name, title })),
    tables: gardenTables.map(({ name, title }) => ({ name, title })),
  };
}
