import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addDays, type Day, dayAtGarden, daysBetween, isDay, parseDay, sayDay } from "@/lib/words/day";
import { quoteFound } from "@/lib/words/fault";
import { type Instant, instantOf, isInstant } from "@/lib/words/instant";
import { parseLengthMm, sayLengthMm } from "@/lib/words/length";
import { parseNumber } from "@/lib/words/number";
import { parseWeightG, sayWeightG } from "@/lib/words/weight";

const run = { seed: 20261125, numRuns: 2000 };
const number = (text: string, rule = {}) => parseNumber(text, { place: "amount", ...rule });
const anyDay = fc.integer({ min: 0, max: 109_000 }).map((count) => addDays("1900-01-01" as Day, count));

function readAs<Value>(outcome: { ok: true; value: Value } | { ok: false }): Value | "refused" {
  return outcome.ok ? outcome.value : "refused";
}

describe("a typed number", () => {
  it("may have a point or a comma, spaces, and a true minus", () => {
    const texts = ["3", "1.5", "1,5", " 1 200 ", "1\u202f200", "−4", "0,250", "007"];
    expect(texts.map((text) => readAs(number(text)))).toEqual([3, 1.5, 1.5, 1200, 1200, -4, 0.25, 7]);
  });

  it("is refused when two readers would take it for two numbers, or it is none", () => {
    const texts = [
      "1,200",
      "-12,345",
      "",
      "1.2.3",
      "1,2,3",
      "1e3",
      "0x10",
      "six",
      "12g",
      "Infinity",
      "NaN",
      "1.",
      ".5",
      "--1",
    ];
    expect(texts.map((text) => readAs(number(text)))).toEqual(texts.map(() => "refused"));
  });

  it("is held to its limits, in words", () => {
    expect(number("7", { whole: true, minimum: 1, maximum: 6 })).toEqual({
      ok: false,
      faults: [{ place: "amount", found: "7", wanted: "a whole number from 1 to 6" }],
    });
    expect(number("1,200", { minimum: 0 })).toMatchObject({
      faults: [{ wanted: "a number of 0 or more, without a thousands comma" }],
    });
    expect(number("9", { maximum: 8 })).toMatchObject({ faults: [{ wanted: "a number of 8 or less" }] });
    expect(readAs(number("1.5", { whole: true }))).toBe("refused");
  });

  it("comes back as it was written, with either decimal mark", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -99_999, max: 99_999 }),
        fc.integer({ min: 0, max: 99 }),
        (whole, part) => {
          const text = `${whole}.${String(part).padStart(2, "0")}`;
          expect(readAs(number(text))).toBe(Number(text));
          expect(readAs(number(text.replace(".", ",")))).toBe(Number(text));
        },
      ),
      run,
    );
  });

  it("never throws, and never lets in what is not finite or beyond its limits, whatever is typed", () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: "binary" }), fc.float().map(String)), (text) => {
        const outcome = number(text, { minimum: 0, maximum: 500 });
        if (outcome.ok) expect(outcome.value >= 0 && outcome.value <= 500).toBe(true);
        else expect(outcome.faults[0].found.length).toBeGreaterThan(0);
      }),
      run,
    );
  });
});

describe("a typed weight", () => {
  it("is grams unless it says kilos, and comes in whole grams", () => {
    const texts = [
      "450",
      "450 g",
      "450g",
      "1,2 kg",
      "1.2kg",
      "1.25 kilos",
      "0",
      "0,4 g",
      "2 KG",
      "12 grams.",
    ];
    expect(texts.map((text) => readAs(parseWeightG(text, "weight")))).toEqual([
      450, 450, 450, 1200, 1200, 1250, 0, 0, 2000, 12,
    ]);
  });

  it("is refused when it is negative, too heavy, in another unit or no weight", () => {
    const texts = ["", "-5", "501 kg", "500001", "2 lb", "kg", "nothing", "1,200 g", "5 g g"];
    for (const text of texts)
      expect(parseWeightG(text, "weight")).toMatchObject({
        ok: false,
        faults: [{ place: "weight", wanted: "a weight such as 450, 450 g or 1,2 kg" }],
      });
  });

  it("is read again from what is said, to the ten grams that are shown of kilos", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 499_000 }), (weightG) => {
        const again = parseWeightG(sayWeightG(weightG), "weight");
        const gap = again.ok ? Math.abs(again.value - weightG) : Number.NaN;
        expect(gap).toBeLessThanOrEqual(weightG < 1000 ? 0 : 5);
      }),
      run,
    );
  });
});

describe("a typed length", () => {
  it("is centimetres unless it says otherwise, and comes in whole millimetres", () => {
    const texts = ["30", "30 cm", "1.2 m", "1,2m", "1200 mm", "2.5"];
    expect(texts.map((text) => readAs(parseLengthMm(text, "length")))).toEqual([
      300, 300, 1200, 1200, 1200, 25,
    ]);
  });

  it("is refused when it is nothing, negative or longer than any bed", () => {
    for (const text of ["", "0", "-3", "201 m", "3 feet", "m", "wide"])
      expect(readAs(parseLengthMm(text, "length"))).toBe("refused");
  });

  it("is read again from what is said, to the centimetre that is shown of metres", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 199_000 }), (lengthMm) => {
        const again = parseLengthMm(sayLengthMm(lengthMm), "length");
        const gap = again.ok ? Math.abs(again.value - lengthMm) : Number.NaN;
        expect(gap).toBeLessThanOrEqual(lengthMm < 1000 ? 0 : 5);
      }),
      run,
    );
  });
});

describe("a typed date", () => {
  it("is understood as people write it", () => {
    for (const text of ["2027-03-04", "4 Mar 2027", "4 March 2027", " 4  mar 2027 ", "Thu 4 Mar 2027"])
      expect(readAs(parseDay(text, "seenOn"))).toBe("2027-03-04");
  });

  it("is refused when it does not exist, is no date, or two readers would take it for two days", () => {
    for (const text of [
      "2027-02-29",
      "31 Apr 2027",
      "2027-13-01",
      "4/3/2027",
      "04.03.2027",
      "4 Mar",
      "4 Mar 27",
      "",
      "soon",
    ])
      expect(readAs(parseDay(text, "seenOn"))).toBe("refused");
  });

  it("is read again from what is said, for every day of three centuries", () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -4000, max: 4000 }), (day, count) => {
        expect(isDay(day)).toBe(true);
        expect(readAs(parseDay(sayDay(day, true), "seenOn"))).toBe(day);
        expect(daysBetween(day, addDays(day, count))).toBe(count);
        expect(addDays(addDays(day, count), -count)).toBe(day);
      }),
      run,
    );
  });

  it("never throws, whatever is typed", () => {
    fc.assert(
      fc.property(fc.oneof(fc.string(), fc.string({ unit: "binary" })), (text) => {
        const outcome = parseDay(text, "seenOn");
        if (outcome.ok) expect(isDay(outcome.value)).toBe(true);
        expect(isDay(text) && !outcome.ok && text > "1900" && text < "2200").toBe(false);
      }),
      run,
    );
  });
});

describe("days and instants", () => {
  it("put half past eleven at night on that evening's day at the garden", () => {
    expect(dayAtGarden("2026-07-01T22:30:00.000Z" as Instant, "Europe/London")).toBe("2026-07-01");
    expect(dayAtGarden("2026-07-01T23:30:00.000Z" as Instant, "Europe/London")).toBe("2026-07-02");
    expect(dayAtGarden("2026-12-01T23:30:00.000Z" as Instant, "Europe/London")).toBe("2026-12-01");
    expect(dayAtGarden("2026-12-01T11:30:00.000Z" as Instant, "Pacific/Auckland")).toBe("2026-12-02");
  });

  it("know an instant that exists from one that does not", () => {
    expect(isInstant("2026-11-25T22:10:04.120Z")).toBe(true);
    for (const text of [
      "2026-02-30T22:10:04.120Z",
      "2026-11-25T25:10:04.120Z",
      "2026-11-25T22:10:04Z",
      "now",
    ])
      expect(isInstant(text)).toBe(false);
    expect(isInstant(instantOf(1_790_000_000_000))).toBe(true);
  });
});

describe("a found value", () => {
  it("is quoted short and never empty", () => {
    expect(quoteFound("  ")).toBe("nothing");
    expect(quoteFound("x".repeat(10_000))).toHaveLength(58);
  });
});
