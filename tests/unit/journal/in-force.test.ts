import { describe, expect, it } from "vitest";
import { inForce } from "@/lib/journal/in-force";
import { factMaker } from "./facts";

describe("the facts in force", () => {
  it("come in fold order: the day, then the device, then the device's own count, whenever they were received", () => {
    const fact = factMaker();
    const later = fact("2026-11-02", "note");
    const second = fact("2026-11-01", "note");
    const third = fact("2026-11-01", "note", { deviceSequence: 90 });
    const otherDevice = fact("2026-11-01", "note", { deviceId: "00000000-0000-7000-8000-000000000001" });
    expect(inForce([later, third, second, otherDevice])).toEqual([otherDevice, second, third, later]);
  });

  it("leave out what was corrected; of two corrections the last in fold order stands", () => {
    const fact = factMaker();
    const first = fact("2026-11-01", "stand", { amount: 5 });
    const correction = fact("2026-11-01", "stand", { amount: 4, replaces: first.id });
    const later = fact("2026-11-01", "stand", { amount: 6, replaces: first.id });
    expect(inForce([later, correction, first])).toEqual([later]);
    expect(inForce([later, correction])).toEqual([later]);
  });

  it("follow a correction of a correction to its end", () => {
    const fact = factMaker();
    const first = fact("2026-11-01", "stand", { amount: 5 });
    const correction = fact("2026-11-01", "stand", { amount: 4, replaces: first.id });
    const again = fact("2026-11-01", "stand", { amount: 3, replaces: correction.id });
    expect(inForce([again, first, correction])).toEqual([again]);
  });

  it("leave a corrected branch fallen, even when its own correction came last of all", () => {
    const fact = factMaker();
    const first = fact("2026-11-01", "stand", { amount: 5 });
    const branch = fact("2026-11-01", "stand", { amount: 4, replaces: first.id });
    const stands = fact("2026-11-01", "stand", { amount: 3, replaces: first.id });
    const late = fact("2026-11-05", "stand", { amount: 2, replaces: branch.id });
    expect(inForce([first, branch, stands, late])).toEqual([stands]);
  });

  it("lose a withdrawn fact, and bring nothing back when a correction is withdrawn", () => {
    const fact = factMaker();
    const first = fact("2026-11-01", "loss", { amount: 1, cause: "slugs" });
    const correction = fact("2026-11-01", "loss", { amount: 2, cause: "slugs", replaces: first.id });
    const withdrawal = fact("2026-11-01", "withdrawn", { replaces: correction.id, note: "another bed" });
    expect(inForce([first, correction, withdrawal])).toEqual([]);
  });

  it("take neither side of two facts that replace each other, nor one that replaces itself", () => {
    const fact = factMaker();
    const one = fact("2026-11-01", "note");
    const other = fact("2026-11-01", "note", { replaces: one.id });
    const ring = { ...one, replaces: other.id };
    const itself = fact("2026-11-01", "note");
    expect(inForce([ring, other, { ...itself, replaces: itself.id }])).toEqual([]);
  });
});
