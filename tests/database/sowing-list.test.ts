import { describe, expect, it } from "vitest";
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
    expect(list?.lines[0].sowings).toEqual([{ sownOn: "2026-08-20", plants: 12, seeds: 30 }]);
    expect(list?.lines.find((line) => line.entryId === second.id)?.sowings[0].seeds).toBe(19);
  });

  it("has a line for each sowing date that is compared", () => {
    const { house, trialId } = houseWithTrial({
      design: "split-plot",
      blocks: 2,
      mainPlots: { factor: "sowing", levels: [{ sownOn: "2026-08-20" }, { sownOn: "2026-09-03" }] },
    });
    expect(sowingList(house, trialId, {})?.lines[0].sowings).toEqual([
      { sownOn: "2026-08-20", plants: 6, seeds: 10 },
      { sownOn: "2026-09-03", plants: 6, seeds: 10 },
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
