import { describe, expect, it } from "vitest";
import { recordGermination } from "@/lib/service/record-germination";
import { recordVerdict } from "@/lib/service/record-verdict";
import { sowingList } from "@/lib/service/sowing-list";
import { undecidedEntries } from "@/lib/service/undecided-entries";
import { given, houseWithTrial } from "./fresh-house";

describe("a sowing list", () => {
  it("reckons seeds from a trial's plants, spares and each packet's germination", () => {
    const { house, trialId, trial } = houseWithTrial();
    const [first, second] = trial.entries;
    const list = sowingList(house, trialId, { [`germination.${first.id}`]: "50 %", spares: "25" });
    expect(list?.faults).toEqual([]);
    // 4 plots of 3 plants, 15 with spares: 30 seeds at one half, 19 at four fifths.
    expect(list?.lines[0].sowings).toEqual([
      { sownOn: "2026-08-20", plants: 12, seeds: 30, seedsToBeSure: null },
    ]);
    expect(list?.lines.find((line) => line.entryId === second.id)?.sowings[0].seeds).toBe(19);
  });

  it("has a line for each sowing date that is compared", () => {
    const { house, trialId } = houseWithTrial({
      design: "split-plot",
      blocks: 2,
      mainPlots: { factor: "sowing", levels: [{ sownOn: "2026-08-20" }, { sownOn: "2026-09-03" }] },
    });
    expect(sowingList(house, trialId, {})?.lines[0].sowings).toEqual([
      { sownOn: "2026-08-20", plants: 6, seeds: 10, seedsToBeSure: null },
      { sownOn: "2026-09-03", plants: 6, seeds: 10, seedsToBeSure: null },
    ]);
  });

  it.each(["0", "101", "many", "-5"])(
    "leaves seeds out where germination is %s, and says what would do",
    (typed) => {
      const { house, trialId, trial } = houseWithTrial();
      const place = `germination.${trial.entries[0].id}`;
      const list = sowingList(house, trialId, { [place]: typed });
      expect(list?.faults).toEqual([{ place, found: typed, wanted: "a percentage from 1 to 100" }]);
      expect(list?.lines[0].sowings[0].seeds).toBeNull();
      expect(list?.lines[1].sowings[0].seeds).not.toBeNull();
    },
  );

  it("is none for a trial that there is not", () => {
    expect(sowingList(houseWithTrial().house, "no such trial", {})).toBeNull();
  });
});

describe("a germination test", () => {
  const keep = (typed: Record<string, string>) => {
    const { house, trialId, trial } = houseWithTrial();
    const [entry] = trial.entries;
    const named = Object.fromEntries(
      Object.entries(typed).map(([part, value]) => [`${part}.${entry.id}`, value]),
    );
    return { house, trialId, entry, outcome: recordGermination(house, trialId, named) };
  };

  it("is kept with the trial, and its share and limits reckon the seeds", () => {
    const { house, trialId, outcome } = keep({ seeds: "50", cameUp: "40", afterDays: "10" });
    expect(given(outcome)).toEqual({ tests: 1 });
    const [line, other] = sowingList(house, trialId, {})?.lines ?? [];
    expect(line.germination).toBe("80");
    // Wilson's limits of 40 of 50.
    expect(line.test?.low).toBeCloseTo(0.66963, 5);
    expect(line.test?.high).toBeCloseTo(0.8876, 4);
    // 12 plants and 20 in 100 more are 15; 15 / 0.8 = 19, 15 / 0.6696 = 23.
    expect(line.sowings).toEqual([{ sownOn: "2026-08-20", plants: 12, seeds: 19, seedsToBeSure: 23 }]);
    expect(other.test).toBeNull();
  });

  it("gives way to the next one, and to what is typed on the list", () => {
    const { house, trialId, entry } = keep({ seeds: "50", cameUp: "40", afterDays: "10" });
    const again = {
      [`seeds.${entry.id}`]: "20",
      [`cameUp.${entry.id}`]: "10",
      [`afterDays.${entry.id}`]: "14",
    };
    given(recordGermination(house, trialId, again));
    expect(given(recordGermination(house, trialId, again))).toEqual({ tests: 0 });
    expect(sowingList(house, trialId, {})?.lines[0].test).toMatchObject({
      seeds: 20,
      cameUp: 10,
      afterDays: 14,
    });
    const typed = sowingList(house, trialId, { [`germination.${entry.id}`]: "100" })?.lines[0];
    expect(typed?.sowings[0]).toMatchObject({ seeds: 15, seedsToBeSure: null });
  });

  it("of which nothing came up names no number of seeds", () => {
    const { house, trialId } = keep({ seeds: "20", cameUp: "0", afterDays: "14" });
    expect(sowingList(house, trialId, {})?.faults).toEqual([]);
    expect(sowingList(house, trialId, {})?.lines[0].sowings[0]).toMatchObject({
      seeds: null,
      seedsToBeSure: null,
    });
  });

  it.each([
    ["cameUp", { seeds: "20", cameUp: "21", afterDays: "10" }, "how many of them came up, 0 to 20"],
    ["seeds", { seeds: "some", cameUp: "2", afterDays: "10" }, "how many seeds were laid out, 1 or more"],
    ["afterDays", { seeds: "20", cameUp: "2", afterDays: "" }, "after how many days, 1 or more"],
  ])("is refused by its field where %s is wrong, and nothing is kept", (part, typed, wanted) => {
    const { house, trialId, entry, outcome } = keep(typed);
    expect(outcome).toMatchObject({ ok: false, faults: [{ place: `${part}.${entry.id}`, wanted }] });
    expect(sowingList(house, trialId, {})?.lines[0].test).toBeNull();
  });
});

describe("what is still undecided of a trial", () => {
  it("is every entry whose last verdict is to try once more, or that has none", () => {
    const { house, trialId, trial } = houseWithTrial();
    const [first, second, third] = trial.entries;
    const say = (entryId: string, choice: string) =>
      given(recordVerdict(house, { trialId, entryId, choice, reason: "as it stood", by: "Ruth" }));
    say(first.id, "grow again");
    say(second.id, "drop");
    say(second.id, "try once more");
    expect(undecidedEntries(house, trialId)).toEqual(new Set([second.id, third.id]));
  });
});
