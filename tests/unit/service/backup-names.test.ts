import { describe, expect, it } from "vitest";
import { backupName, backupsToDrop, leftoversOf, madeAtOf } from "@/lib/service/backup-names";
import { addDays, type Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";

function copyOf(day: Day | string, time = "03:00:00.000"): string {
  return backupName(`${day}T${time}Z` as Instant);
}

describe("the names of backups", () => {
  it("tell when they were made", () => {
    const name = copyOf("2026-11-25", "09:17:04.120");
    expect(name).toBe("garden-2026-11-25T09-17-04-120Z.sqlite");
    expect(madeAtOf(name)).toBe("2026-11-25T09:17:04.120Z");
  });

  it.each(["garden.sqlite", "before-update-1.sqlite", "garden-2026-13-25T09-17-04-120Z.sqlite"])(
    "%s is no backup of ours",
    (name) => expect(madeAtOf(name)).toBeNull(),
  );
});

describe("the rule of keeping", () => {
  it("keeps the last copy of a day", () => {
    const early = copyOf("2026-11-25", "03:00:00.000");
    const late = copyOf("2026-11-25", "21:00:00.000");
    expect(backupsToDrop([late, early])).toEqual([early]);
  });

  it("keeps fourteen days and the last of every month, for good", () => {
    const days = Array.from({ length: 100 }, (_, index) => addDays("2026-08-18" as Day, index));
    const names = days.map((day) => copyOf(day));
    const dropped = new Set(backupsToDrop(names));
    const kept = days.filter((_, index) => !dropped.has(names[index]));
    expect(kept.slice(0, 3)).toEqual(["2026-08-31", "2026-09-30", "2026-10-31"]);
    expect(kept.slice(3)).toEqual(days.slice(-14));
  });

  it("counts days that have a copy, so that a home left off for a month keeps them", () => {
    const names = ["2026-10-30", "2026-10-31", "2026-12-01"].map((day) => copyOf(day));
    expect(backupsToDrop(names)).toEqual([]);
  });

  it("never names what is no backup", () => {
    expect(backupsToDrop(["before-restore-1.sqlite", "notes.txt"])).toEqual([]);
  });
});

it("what an attempt cut off on an earlier day left may go, what one of today has may not", () => {
  const [old, recent] = ["2026-11-24", "2026-11-25"].map((day) => `${copyOf(day)}.partial`);
  const names = [old, `${old}-wal`, recent, copyOf("2026-11-24"), "notes.partial"];
  expect(leftoversOf(names, "2026-11-25T09:00:00.000Z" as Instant)).toEqual([old, `${old}-wal`]);
});
