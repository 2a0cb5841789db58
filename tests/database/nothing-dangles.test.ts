import { describe, expect, it } from "vitest";
import { houseWithTrial, send, someFact } from "./fresh-house";

const observed = `INSERT INTO observation (id, device_id, device_seq, trial_id, plot_id, cohort_id, kind, cause, part, unit,
  amount, seen_on, recorded_at, received_at, body_hash, "by")
  SELECT '0193a1b2-2222-7000-8000-000000000001', device_id, 9, @trial, @plot, @cohort, @kind, @cause, @part, @unit, @amount,
  @seenOn, @recordedAt, received_at, body_hash, "by" FROM observation`;

function oneFact() {
  const { house, trial } = houseWithTrial();
  const [plot, other] = trial.plots;
  send(house, [someFact(plot.id)]);
  const sound = {
    trial: trial.id,
    plot: plot.id,
    cohort: `${plot.id}/2026-09-20`,
    kind: "stand",
    cause: null as string | null,
    part: null as string | null,
    unit: "plants" as string | null,
    amount: 2 as number | null,
    seenOn: "2026-11-25",
    recordedAt: "2026-11-25T08:30:00.000Z",
  };
  return { connection: house.database.$client, sound, otherPlotId: other.id };
}

describe("a fact written past the service", () => {
  it("is taken when it is sound", () => {
    const { connection, sound } = oneFact();
    expect(connection.prepare(observed).run(sound).changes).toBe(1);
  });

  it.each([
    ["trial", { trial: "nowhere" }],
    ["plot", { plot: "nowhere" }],
    ["cohort", { cohort: "nowhere" }],
    ["kind", { kind: "eaten" }],
    ["cause", { kind: "loss", cause: "no such cause" }],
    ["part", { part: "blossom" }],
    ["unit", { kind: "note", unit: "stone" }],
  ])("must name a %s that is there", (_, change) => {
    const { connection, sound } = oneFact();
    expect(() => connection.prepare(observed).run({ ...sound, ...change })).toThrow(/FOREIGN KEY/);
  });

  it("must name a cohort of its own plot", () => {
    const { connection, sound, otherPlotId } = oneFact();
    const change = { cohort: `${otherPlotId}/2026-09-20` };
    expect(() => connection.prepare(observed).run({ ...sound, ...change })).toThrow(/FOREIGN KEY/);
  });

  it.each([
    ["half a plant", { amount: 1.5 }, /whole number of plants/],
    ["no plants", { amount: null }, /whole number of plants/],
    ["plants in grams", { unit: "g" }, /whole number of plants/],
    ["fewer than none", { amount: -1 }, /CHECK/],
    ["a loss without a cause", { kind: "loss" }, /needs its cause/],
    ["a removal without a reason", { kind: "removed" }, /needs its cause/],
    ["a score of nothing", { kind: "score", unit: "score" }, /needs its trait/],
    ["a harvest in plants", { kind: "harvest" }, /whole grams/],
    ["half a gram", { kind: "harvest", unit: "g", amount: 0.5 }, /whole grams/],
    ["a withdrawal of nothing", { kind: "withdrawn", unit: null, amount: null }, /names what it withdraws/],
    ["a day that does not exist", { seenOn: "2026-02-30" }, /CHECK/],
    ["a day in another form", { seenOn: "25.11.2026" }, /CHECK/],
    ["an instant without a zone", { recordedAt: "2026-11-25T08:30:00" }, /CHECK/],
    ["an instant that does not exist", { recordedAt: "2026-11-25T24:30:00.000Z" }, /CHECK/],
  ])("is refused with %s", (_, change, words) => {
    const { connection, sound } = oneFact();
    expect(() => connection.prepare(observed).run({ ...sound, ...change })).toThrow(words);
  });

  it("may carry any millisecond", () => {
    const { connection } = oneFact();
    const instants = Array.from(
      { length: 1000 },
      (_, ms) => `2026-11-25T08:30:59.${String(ms).padStart(3, "0")}Z`,
    );
    const misread = connection
      .prepare(
        "SELECT value FROM json_each(?) WHERE strftime('%Y-%m-%dT%H:%M:%fZ', value, '+0 days') IS NOT value",
      )
      .all(JSON.stringify(instants));
    expect(misread).toEqual([]);
  });
});

describe("what is in use", () => {
  it.each([
    ["a plot with its cohort", "DELETE FROM plot"],
    ["an entry with plots", "DELETE FROM entry"],
    ["a bed with plots", "DELETE FROM bed"],
    ["a variety in a trial", "DELETE FROM variety"],
    ["a crop with varieties", "DELETE FROM crop"],
    ["a trial", "DELETE FROM trial"],
    ["a garden with beds", "DELETE FROM garden"],
    ["a cover that was placed", "DELETE FROM cover"],
  ])("cannot be deleted: %s", (_, deletion) => {
    const { house } = houseWithTrial();
    expect(() => house.database.$client.prepare(deletion).run()).toThrow(/FOREIGN KEY/);
  });
});
