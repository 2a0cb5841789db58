import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { neutralCell, restoredCell } from "@/lib/records/neutral-cell";
import { type ObservationRow, readObservations } from "@/lib/records/read-observations";
import { type PlotRow, readPlots } from "@/lib/records/read-plots";
import { writeObservations } from "@/lib/records/write-observations";
import { writePlots } from "@/lib/records/write-plots";
import { causes, removalReasons } from "@/lib/words/cause";
import { addDays, type Day } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { harvestParts, type ObservationKind } from "@/lib/words/observation";

const seed = 20261125;

/** Words as people and hostile files have them: commas, quotation marks, line ends, formulas, other letters. */
const words = fc
  .oneof(
    fc.string({ unit: "grapheme", minLength: 1, maxLength: 40 }),
    fc
      .array(
        fc.constantFrom("=", "+", "-", "@", "'", '"', ",", "\n", "\r\n", "\r", "\t", ";", "a", "1", "＝"),
        {
          minLength: 1,
          maxLength: 12,
        },
      )
      .map((parts) => parts.join("")),
  )
  .map((text) => text.trim())
  .filter((text) => text !== "" && text.length <= 80 && !text.includes("\uFFFD"));

const orNull = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { nil: null });
const dayAfter = (from: string) => fc.nat(600).map((count) => addDays(from as Day, count));
const whole = fc.integer({ min: 1, max: 100_000 });

const plotRow = fc.record({
  plot: words,
  variety: words,
  replicate: orNull(words),
  block: orNull(words),
  mainPlot: orNull(words),
  row: orNull(whole),
  column: orNull(whole),
  cover: orNull(words),
  companion: orNull(words),
  sownOn: orNull(fc.nat(200).map((count) => addDays("2025-01-01" as Day, count))),
  plantedOn: orNull(fc.nat(100).map((count) => addDays("2025-08-01" as Day, count))),
  plants: orNull(whole),
  areaM2: orNull(fc.integer({ min: 1, max: 9_000_000 }).map((mm2) => (mm2 * 100) / 1_000_000)),
});
const plotRows = fc.uniqueArray(plotRow, { selector: (row) => row.plot, minLength: 1, maxLength: 8 });

const plants = { amount: fc.nat(100_000), unit: fc.constant("plants" as const) };
const none = { amount: fc.constant(null), unit: fc.constant(null) };
const codes = (list: readonly { code: string }[]) => fc.constantFrom(...list.map((one) => one.code));
const figures = (kind: ObservationKind): Partial<Record<keyof ObservationRow, fc.Arbitrary<unknown>>> => {
  if (kind === "loss") return { ...plants, cause: codes(causes) };
  if (kind === "removed") return { ...plants, cause: codes(removalReasons) };
  if (["stand", "added", "regrew", "doubtful"].includes(kind)) return plants;
  if (kind === "score") return { amount: fc.nat(9), unit: fc.constantFrom("score", "percent"), trait: words };
  if (kind === "count")
    return { amount: fc.nat(99), unit: fc.constant("count"), trait: fc.oneof(words, fc.constant("bbch")) };
  if (kind === "harvest")
    return {
      amount: orNull(fc.nat(1_000_000)),
      unit: fc.constantFrom("g", "count"),
      part: orNull(fc.constantFrom(...harvestParts)),
    };
  return none;
};

function observationRow(kind: ObservationKind, plots: string[]) {
  return fc.record({
    seenOn: dayAfter("2025-12-01"),
    plot: fc.constantFrom(...plots),
    kind: fc.constant(kind),
    cause: fc.constant(null),
    trait: orNull(words),
    part: fc.constant(null),
    by: orNull(words),
    note: orNull(words),
    id: fc.uuid(),
    replaces: orNull(fc.uuid()),
    setOutOn: orNull(dayAfter("2025-12-01")),
    recordedAt: orNull(fc.nat(2_000_000_000).map((seconds) => instantOf(seconds * 1000))),
    ...figures(kind),
  }) as fc.Arbitrary<Omit<ObservationRow, "line" | "notes">>;
}

const kinds = ["stand", "loss", "removed", "added", "regrew", "doubtful"] as const;
const others = ["not-seen", "score", "count", "harvest", "ended", "note"] as const;
const trial = plotRows.chain((plots) =>
  fc.record({
    plots: fc.constant(plots),
    observations: fc.uniqueArray(
      fc.constantFrom(...kinds, ...others).chain((kind) =>
        observationRow(
          kind,
          plots.map((row) => row.plot),
        ),
      ),
      { selector: (row) => row.id, minLength: 1, maxLength: 20 },
    ),
  }),
);

function withoutLines<Row extends { line: number; notes: object }>(rows: Row[]) {
  return rows.map(({ line: _line, notes: _notes, ...row }) => row);
}

describe("what is written", () => {
  it("is read back the same, plots and observations", () => {
    fc.assert(
      fc.property(trial, ({ plots, observations }) => {
        const readBack = readPlots(writePlots(plots), "plots.csv");
        if (!readBack.ok) throw new Error(JSON.stringify(readBack.faults));
        expect(withoutLines<PlotRow>(readBack.value.rows)).toEqual(plots);
        expect(readBack.value.unknownColumns).toEqual([]);
        const facts = readObservations(
          writeObservations(observations),
          "observations.csv",
          readBack.value.rows,
        );
        if (!facts.ok) throw new Error(JSON.stringify(facts.faults));
        expect(withoutLines<ObservationRow>(facts.value.rows)).toEqual(observations);
        expect(facts.value.unknownColumns).toEqual([]);
      }),
      { seed, numRuns: 300 },
    );
  });

  it("never begins a cell as a formula does, and loses nothing by it", () => {
    fc.assert(
      fc.property(words, (text) => {
        expect(neutralCell(text)).not.toMatch(/^[=+\-@＝＋－＠\t\r]/);
        expect(restoredCell(neutralCell(text))).toBe(text);
      }),
      { seed, numRuns: 2_000 },
    );
  });
});
