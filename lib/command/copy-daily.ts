import { backUp } from "@/lib/service/back-up";
import { gardenName } from "@/lib/service/garden-name";
import type { House } from "@/lib/service/house";
import { listBackups } from "@/lib/service/list-backups";

const hourMs = 3_600_000;

async function copyWhenDue(house: House, stopping: AbortSignal): Promise<void> {
  const [last] = listBackups(house);
  const isDue = last?.madeAt.slice(0, 10) !== house.now().slice(0, 10);
  if (!isDue || stopping.aborted || !gardenName(house)) return;
  await backUp(house);
}

/** Backs the garden up once a day (UTC) for as long as the home runs: looks at once and then every hour. */
export function copyDaily(house: House, stopping: AbortSignal): void {
  const look = () => {
    copyWhenDue(house, stopping).catch((fault: unknown) => {
      if (stopping.aborted) return;
      console.error(`The daily backup failed (${fault instanceof Error ? fault.message : fault}).`);
    });
  };
  look();
  const each = setInterval(look, hourMs);
  each.unref();
  stopping.addEventListener("abort", () => clearInterval(each));
}
