import { join } from "node:path";
import type { Instant } from "@/lib/words/instant";
import { isInstant } from "@/lib/words/instant";

/** How many days keep a copy each. */
const daysKept = 14;

const form = /^garden-(\d{4}-\d{2}-\d{2})T(\d{2})-(\d{2})-(\d{2})-(\d{3})Z\.sqlite$/;

/** Where a garden's copies lie: beside its file. */
export function backupFolder(dataFolder: string): string {
  return join(dataFolder, "backups");
}

/** An instant as it stands in the name of a file, on any system. */
export function stampOf(instant: Instant): string {
  return instant.replace(/[:.]/g, "-");
}

/** The name of a copy made at an instant: `garden-2026-11-25T09-17-04-120Z.sqlite`. */
export function backupName(madeAt: Instant): string {
  return `garden-${stampOf(madeAt)}.sqlite`;
}

/** When a copy was made, by its name; null for a file that is no copy of ours. */
export function madeAtOf(name: string): Instant | null {
  const match = form.exec(name);
  if (!match) return null;
  const [, day, hours, minutes, seconds, thousandths] = match;
  const instant = `${day}T${hours}:${minutes}:${seconds}.${thousandths}Z`;
  return isInstant(instant) ? instant : null;
}

/**
 * The copies that may go, by this rule: the last copy of each of the last 14 days that have one stays, and the last copy
 * of every month stays for good. Days and months are UTC. What is no copy of ours (a file kept before an update or a
 * restore) is never named.
 */
export function backupsToDrop(names: readonly string[]): string[] {
  const copies = names
    .filter((name) => madeAtOf(name) !== null)
    .sort()
    .reverse();
  const lastOf = (length: number) => {
    const last = new Map<string, string>();
    for (const name of copies) {
      const span = name.slice("garden-".length, "garden-".length + length);
      if (!last.has(span)) last.set(span, name);
    }
    return [...last.values()];
  };
  const kept = new Set([...lastOf("2026-11-25".length).slice(0, daysKept), ...lastOf("2026-11".length)]);
  return copies.filter((name) => !kept.has(name));
}

/** What attempts on days before today left when their process was ended: never a copy, nor an attempt under way. */
export function leftoversOf(names: readonly string[], now: Instant): string[] {
  return names.filter((name) => {
    const [base, rest] = name.split(".partial");
    const madeAt = rest === undefined ? null : madeAtOf(base);
    return madeAt !== null && madeAt.slice(0, 10) < now.slice(0, 10);
  });
}
