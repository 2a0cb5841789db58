import { expect, test } from "vitest";
import { coverDraft, lowestDraft, treatmentDraft } from "@/lib/sync/device/bed-acts";
import { bedViews } from "@/lib/sync/device/bed-view";
import { completePack } from "@/lib/sync/device/complete-pack";
import { draftWithdrawal } from "@/lib/sync/device/fact-draft";
import { pastOfBed, pastOfPlot } from "@/lib/sync/device/past-facts";
import { plotViews } from "@/lib/sync/device/plot-view";
import { seenAtHome } from "@/lib/sync/device/refresh-pack";
import { scaledSize } from "@/lib/sync/device/scale-picture";
import { stampFacts } from "@/lib/sync/device/stamp-facts";
import type { BedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import { bed, homeFact, pack, plot } from "./example-bed";
import { idOf, instantAt, walkDay } from "./facts";

const looking = { by: "Ivy", seenOn: walkDay, walkaboutId: idOf(7) };
const long = bed("Long bed", [plot(1)]);

function made(drafts: Parameters<typeof stampFacts>[0]["drafts"], clockSkewS: number | null = null) {
  const ids = drafts.map((_, index) => idOf(100 + index));
  const row = { deviceId: idOf(999), nextSequence: 0 };
  return stampFacts({ drafts, ids, recordedAt: instantAt(0), clockSkewS }, row).entries;
}

test("how the cover stands is the last word of home and phone, and a fact taken back counts no more", () => {
  const entries = made([
    coverDraft(looking, "Long bed", "open"),
    lowestDraft(looking, "Long bed", -35),
    treatmentDraft(looking, "Long bed", "watered", "part"),
  ]);
  const view = bedViews(pack([long]), entries).get("Long bed");
  expect([view?.cover, view?.lowest?.amount, view?.inForce.length]).toEqual(["open", -35, 3]);
  const back = made([
    coverDraft(looking, "Long bed", "open"),
    draftWithdrawal(entries[0].fact, { ...looking, note: "a slip" }),
  ]);
  expect(bedViews(pack([long]), back).get("Long bed")?.cover).toBe(null);
});

test("a sheet of an earlier day is entered against what stood then, with corrections made since", () => {
  const facts = [
    homeFact(1, { seenOn: "2026-12-01" as Day }),
    homeFact(2, { seenOn: "2027-01-10" as Day }),
    homeFact(3, { seenOn: "2027-01-12" as Day, amount: 2, replaces: idOf(10_001) }),
  ];
  const standing = (until: Day | null) =>
    plotViews(pack([long], facts), [], {}, until).get("plot-1")?.standing;
  expect([null, "2027-01-11", "2026-12-31"].map((day) => standing(day as Day | null))).toEqual([0, 2, 3]);
});

test("a bed's fact is forgotten once the pack shows it, or is older than the pack goes back", () => {
  const [waiting] = made([coverDraft(looking, "Long bed", "shut")]);
  const home = { ...waiting, state: "home" as const };
  expect(seenAtHome([home], pack([long]))).toEqual([]);
  expect(seenAtHome([home], { ...pack([long]), bedFacts: [home.fact as BedFact] })).toEqual([home.id]);
  expect(seenAtHome([home], { ...pack([long]), bedFactsSince: "2027-02-01" as Day })).toEqual([home.id]);
  expect(seenAtHome([waiting], { ...pack([long]), bedFacts: [home.fact as BedFact] })).toEqual([]);
});

test("a pack that an older program fetched is drawn: what it lacks is none", () => {
  const { bedFacts: _facts, bedFactsSince: _since, ...old } = pack([long]);
  expect(bedViews(completePack(old as never), []).get("Long bed")?.inForce).toEqual([]);
});

test("the skew of the clock goes with every fact where it is known, and is left out of a plot's where it is not", () => {
  const [fact] = made([coverDraft(looking, "Long bed", "shut")], 604_800);
  expect(fact.fact.clockSkewS).toBe(604_800);
  const drafts = [coverDraft(looking, "Long bed", "shut")];
  expect(made(drafts)[0].fact.clockSkewS).toBe(null);
});

test("a plot's history shows the latest first, with what was corrected", () => {
  const facts = [homeFact(1, {}), homeFact(2, { replaces: idOf(10_001), seenOn: "2026-12-02" as Day })];
  expect(pastOfPlot(pack([long], facts), [], "plot-1").map(({ fact, state }) => [fact.id, state])).toEqual([
    [idOf(10_002), "in force"],
    [idOf(10_001), "corrected"],
  ]);
  const slip = made([
    coverDraft(looking, "Long bed", "open"),
    draftWithdrawal(made([coverDraft(looking, "Long bed", "open")])[0].fact, { ...looking, note: "a slip" }),
  ]);
  expect(pastOfBed(pack([long]), slip, "Long bed").map(({ state }) => state)).toEqual([
    "withdrawn",
    "in force",
  ]);
});

test("a picture is brought down to 1,600 points on its longest side, and never blown up", () => {
  expect(scaledSize(4_000, 3_000)).toEqual({ widthPx: 1_600, heightPx: 1_200 });
  expect(scaledSize(3_000, 4_000)).toEqual({ widthPx: 1_200, heightPx: 1_600 });
  expect(scaledSize(800, 600)).toEqual({ widthPx: 800, heightPx: 600 });
  expect(scaledSize(20_000, 2)).toEqual({ widthPx: 1_600, heightPx: 1 });
});
