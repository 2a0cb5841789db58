import { inOneAct } from "@/db/open";
import { appendGerminationTest } from "@/db/queries/append-germination-test";
import { listEntries } from "@/db/queries/list-entries";
import { listGerminationTests } from "@/db/queries/list-germination-tests";
import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";
import type { House } from "./house";

const mostSeeds = 10_000;
const mostDays = 365;

/**
 * Writes down germination tests of a trial's packets: for every variety of which anything was typed, how many seeds were
 * laid out, how many came up, and after how many days they were counted. All or none; a test that says the same as the last
 * one is not written again.
 *
 * @param typed `seeds.`, `cameUp.` and `afterDays.`, each with an entry's id, as they were typed
 */
export function recordGermination(
  house: House,
  trialId: string,
  typed: Record<string, string>,
): Outcome<{ tests: number }> {
  const { database } = house;
  const faults: Fault[] = [];
  const take = (place: string, minimum: number, maximum: number, wanted: string) => {
    const read = parseNumber(typed[place] ?? "", { place, whole: true, minimum, maximum, wanted });
    if (read.ok) return read.value;
    faults.push(...read.faults);
    return 0;
  };
  return inOneAct(database, () => {
    const known = listGerminationTests(database, trialId);
    const tests = listEntries(database, trialId).flatMap(({ id: entryId }) => {
      const isTyped = ["seeds", "cameUp"].some((part) => (typed[`${part}.${entryId}`] ?? "").trim() !== "");
      if (!isTyped) return [];
      const seeds = take(`seeds.${entryId}`, 1, mostSeeds, "how many seeds were laid out, 1 or more");
      const most = seeds > 0 ? seeds : mostSeeds;
      const cameUp = take(`cameUp.${entryId}`, 0, most, `how many of them came up, 0 to ${most}`);
      const afterDays = take(`afterDays.${entryId}`, 1, mostDays, "after how many days, 1 or more");
      const last = known.findLast((test) => test.entryId === entryId);
      const isSame = last?.seeds === seeds && last.cameUp === cameUp && last.afterDays === afterDays;
      return isSame ? [] : [{ entryId, seeds, cameUp, afterDays }];
    });
    if (faults.length > 0) return refusal(faults);
    for (const test of tests)
      appendGerminationTest(database, { id: house.newId(), trialId, ...test, madeAt: house.now() });
    return success({ tests: tests.length });
  });
}
