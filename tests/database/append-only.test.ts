import { describe, expect, it } from "vitest";
import { amendPlot } from "@/lib/service/amend-plot";
import { recordGermination } from "@/lib/service/record-germination";
import { given, houseWithTrial, send, someFact } from "./fresh-house";
import { recordVerdictRow } from "./verdict-row";

function withOneOfEach() {
  const { house, trialId, trial } = houseWithTrial();
  const plotId = trial.plots[0].id;
  send(house, [someFact(plotId)]);
  given(
    amendPlot(house, {
      trialId,
      plotId,
      kind: "excluded",
      fromOn: "2026-11-20",
      reason: "the net blew off",
      by: "Ruth",
    }),
  );
  recordVerdictRow(house, trial);
  const { id } = trial.entries[0];
  given(
    recordGermination(house, trialId, {
      [`seeds.${id}`]: "20",
      [`cameUp.${id}`]: "17",
      [`afterDays.${id}`]: "9",
    }),
  );
  return house.database.$client;
}

describe.each(["observation", "rule", "amendment", "verdict", "germination_test"])(
  "%s is append only",
  (table) => {
    it("refuses an update", () => {
      const connection = withOneOfEach();
      const changes: Record<string, string> = { rule: "sureness = 0.5", germination_test: "came_up = 1" };
      const change = changes[table] ?? `"by" = 'nobody'`;
      expect(() => connection.prepare(`UPDATE ${table} SET ${change}`).run()).toThrow(/append only/);
      expect(() => connection.prepare(`UPDATE OR REPLACE ${table} SET ${change}`).run()).toThrow(
        /append only/,
      );
    });

    it("refuses a delete", () => {
      const connection = withOneOfEach();
      expect(() => connection.prepare(`DELETE FROM ${table}`).run()).toThrow(/append only/);
    });

    it("refuses to be replaced, and keeps the row as it was", () => {
      const connection = withOneOfEach();
      const before = connection.prepare(`SELECT * FROM ${table}`).all();
      const again = `INSERT OR REPLACE INTO ${table} SELECT * FROM ${table}`;
      expect(() => connection.prepare(again).run()).toThrow(/append only/);
      // Even where the triggers on deletion do not run.
      connection.pragma("recursive_triggers = OFF");
      expect(() => connection.prepare(again).run()).toThrow(/append only/);
      expect(connection.prepare(`SELECT * FROM ${table}`).all()).toEqual(before);
    });
  },
);

describe("an observation's receipt number", () => {
  it("cannot be taken over by another fact", () => {
    const connection = withOneOfEach();
    const columns = connection
      .prepare("SELECT name FROM pragma_table_info('observation')")
      .pluck()
      .all()
      .map((name) => `"${name}"`)
      .join(", ");
    const forged = columns.replace('"id"', "'0193a1b2-ffff-7000-8000-00000000000f'");
    expect(() =>
      connection
        .prepare(`INSERT OR REPLACE INTO observation (${columns}) SELECT ${forged} FROM observation`)
        .run(),
    ).toThrow(/append only/);
  });
});
