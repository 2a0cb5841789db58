import { describe, expect, it } from "vitest";
import { type BedFact, sayBedFact } from "@/lib/words/bed-fact";
import { pictureTypeOf } from "@/lib/words/picture";
import { parseTenthsC, sayTenthsC } from "@/lib/words/temperature";

const told = { kind: "note", what: null, reach: null, amount: null, note: null } satisfies Partial<BedFact>;

describe("a temperature", () => {
  it.each([
    ["-3.5", -35],
    ["−3,5", -35],
    ["4 °C", 40],
    ["0", 0],
    ["12°", 120],
    ["-0,04", -0],
  ])("typed as %s is kept in tenths of a degree", (text, tenths) => {
    const read = parseTenthsC(text, "temperature");
    expect(read.ok && read.value + 0).toBe(tenths + 0);
  });

  it.each(["", "cold", "-", "61", "-60,1", "3.5.1"])("typed as %j is refused", (text) => {
    expect(parseTenthsC(text, "temperature")).toMatchObject({ ok: false });
  });

  it.each([
    [-35, "−3.5 °C"],
    [40, "4 °C"],
    [0, "0 °C"],
    [-10, "−1 °C"],
  ])("of %i tenths is said as %s", (tenths, words) => {
    expect(sayTenthsC(tenths)).toBe(words);
  });
});

describe("a fact of a bed", () => {
  it.each<[Partial<BedFact>, string]>([
    [{ kind: "cover", what: "open" }, "cover open"],
    [{ kind: "lowest", amount: -35 }, "lowest −3.5 °C"],
    [{ kind: "treatment", what: "watered", reach: "whole" }, "watered"],
    [{ kind: "treatment", what: "watered", reach: "part" }, "watered, part of the bed only"],
    [{ kind: "pest", what: "slugs" }, "slugs seen"],
    [{ kind: "ready", what: "leeks" }, "leeks ready to pick"],
    [{ kind: "harvest", what: "leeks", amount: 1_200 }, "leeks: 1.2 kg picked"],
    [{ kind: "harvest", what: "leeks", amount: 0 }, "leeks: nothing to pick"],
    [{ kind: "harvest", what: "leeks" }, "leeks: not picked"],
    [{ kind: "condition", note: "thin at the wall" }, "thin at the wall"],
  ])("%o is said as a gardener would", (fact, words) => {
    expect(sayBedFact({ ...told, ...fact })).toBe(words);
  });
});

describe("a picture", () => {
  it.each([
    ["image/jpeg", [0xff, 0xd8, 0xff, 0xe0]],
    ["image/png", [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
    ["image/webp", [...Buffer.from("RIFF\0\0\0\0WEBP")]],
    [null, [...Buffer.from("<svg onload=alert(1)>")]],
    [null, [...Buffer.from("RIFF\0\0\0\0WAVE")]],
    [null, [0xff, 0xd8]],
  ])("is told by its own bytes: %s", (type, bytes) => {
    expect(pictureTypeOf(Uint8Array.from(bytes))).toBe(type);
  });
});
