import type { RecordPlot, TrialRecord } from "@/lib/analysis/trial-record";
import type { SeasonCount } from "@/lib/analysis/winters-together";
import { instantOf } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";
import type { Rule } from "@/lib/words/trial";
import { blocksOf, counted, day, fact, inventedRecord, picked } from "../../unit/analysis/invented-record";

/** One invented trial whose telling was read and judged; earlier winters of its varieties where there were any. */
export interface GoldenTrial {
  name: string;
  record: TrialRecord;
  earlier?: Record<string, SeasonCount[]>;
}

const took = day("2026-10-01");
const january = day("2027-01-15");
const march = day("2027-03-28");
const assessments: TrialRecord["assessments"] = [
  { name: "took", dueOn: took },
  { name: "regrowth", dueOn: march },
];
const rule: Rule = {
  version: 1,
  survivalFloor: 0.6,
  yieldFloor: null,
  sureness: 0.8,
  qualities: [],
  reason: null,
  setAt: instantOf(0),
};
const letters = "ABCDEFGHIJKL";

/** Stands of a variety by block, as `{ Pennick: [7, 8, 6, 8] }`; a gap where nobody counted. */
type ByBlock = Record<string, (number | null)[]>;

function byPlot(plots: RecordPlot[], values: ByBlock): Record<string, number> {
  const seen = new Map<string, number>();
  return Object.fromEntries(
    plots.flatMap((plot) => {
      const place = seen.get(plot.variety) ?? 0;
      seen.set(plot.variety, place + 1);
      const value = values[plot.variety]?.[place] ?? null;
      return value === null ? [] : [[plot.id, value]];
    }),
  );
}

function inBlocks(standing: ByBlock, given: Partial<TrialRecord> = {}, plants = 8): TrialRecord {
  const varieties = Object.keys(standing);
  const plots = given.plots ?? blocksOf(varieties, standing[varieties[0]].length, plants);
  return inventedRecord({
    rule,
    assessments,
    ...given,
    plots,
    facts: [...counted(march, byPlot(plots, standing)), ...(given.facts ?? [])],
  });
}

const lost = (plotId: string, amount: number, cause: string, seenOn = january): Observation =>
  fact({ plotId, kind: "loss", amount, cause, seenOn });

/** What main plots are dealt: a cover, none, or a day of sowing. */
type Level = Partial<Pick<RecordPlot, "cover" | "sownOn">>;

/** Levels on main plots: block letter, main plot, place. */
function splitPlots(levels: Level[], varieties: string[], blocks: number): RecordPlot[] {
  return Array.from({ length: blocks }, (_, block) =>
    levels.flatMap((level, main) =>
      varieties.map((variety, place): RecordPlot => {
        const code = `${letters[block]}${main + 1}${place + 1}`;
        const place0 = { row: block + 1, column: main * varieties.length + place + 1 };
        const own = {
          id: code,
          code,
          block: String(block + 1),
          mainPlot: String(main + 1),
          ...level,
          ...place0,
        };
        return { ...blocksOf([variety], 1, 8)[0], ...own };
      }),
    ),
  ).flat();
}

/** Values by level and variety, as `net Pennick`, block by block. */
function onMainPlots(
  levels: Record<string, Level>,
  standing: Record<string, number[]>,
  grams: Record<string, number[]> | null,
): TrialRecord {
  const varieties = ["Pennick", "Hollin", "Carrow"];
  const names = Object.keys(levels);
  const plots = splitPlots(Object.values(levels), varieties, Object.values(standing)[0].length);
  const of = (values: Record<string, number[]>) =>
    Object.fromEntries(
      plots.map((plot) => {
        const level = names[Number(plot.mainPlot) - 1];
        return [plot.id, values[`${level} ${plot.variety}`][Number(plot.block) - 1]];
      }),
    );
  return inventedRecord({
    design: "split-plot",
    plots,
    check: "Hollin",
    rule,
    assessments,
    facts: [...counted(march, of(standing)), ...(grams ? picked(march, of(grams)) : [])],
  });
}

function square(standing: number[][], order: string[][]): TrialRecord {
  const plots = order.flatMap((row, y) =>
    row.map((variety, x): RecordPlot => {
      const code = `${letters[y]}${x + 1}`;
      const place = { id: code, code, variety, block: null, row: y + 1, column: x + 1 };
      return { ...blocksOf([variety], 1, 8)[0], ...place };
    }),
  );
  const counts = Object.fromEntries(plots.map((plot, place) => [plot.id, standing.flat()[place]]));
  return inventedRecord({
    design: "latin",
    plots,
    varieties: [...order[0]].sort(),
    check: "Hollin",
    rule,
    assessments,
    facts: counted(march, counts),
  });
}

function lookSee(): TrialRecord {
  const entries = ["Pennick", "Carrow", "Tansy Mill", "Greyfriar", "Longstone", "Wick Hill"];
  const order = [
    "Hollin",
    ...entries.slice(0, 2),
    "Hollin",
    ...entries.slice(2, 4),
    "Hollin",
    ...entries.slice(4),
    "Hollin",
  ];
  const standing = [6, 8, 2, 5, 7, 0, 7, 8, 3, 6];
  const plots = order.map((variety, place): RecordPlot => {
    const code = `A${place + 1}`;
    return { ...blocksOf([variety], 1, 8)[0], id: code, code, block: null, row: 1, column: place + 1 };
  });
  return inventedRecord({
    design: "augmented",
    plots,
    varieties: ["Hollin", ...entries],
    check: "Hollin",
    rule,
    assessments,
    facts: counted(march, Object.fromEntries(plots.map((plot, place) => [plot.id, standing[place]]))),
  });
}

/** Nine varieties in three replicates of three blocks of three, so that each pair meets at most once. */
function incompleteBlocks(): TrialRecord {
  const names = [
    "Hollin",
    "Pennick",
    "Carrow",
    "Thornlea",
    "Tansy Mill",
    "Greyfriar",
    "Longstone",
    "Wick Hill",
    "Birk Nook",
  ];
  const replicates = [
    [
      [0, 1, 2],
      [3, 4, 5],
      [6, 7, 8],
    ],
    [
      [0, 3, 6],
      [1, 4, 7],
      [2, 5, 8],
    ],
    [
      [0, 4, 8],
      [1, 5, 6],
      [2, 3, 7],
    ],
  ];
  const worth = [62, 70, 55, 30, 64, 58, 71, 49, 60];
  const blockGain = [4, -3, 6, 0, 5, -6, 2, -2, 3];
  const stray = [2, -3, 1, 4, -2, 0, -1, 3, -4, 1, 2, -2, 0, 3, -1, -3, 2, 1, -2, 4, 0, 1, -1, 2, -3, 3, -2];
  const plots: RecordPlot[] = [];
  const grams: Record<string, number> = {};
  const counts: Record<string, number> = {};
  replicates.forEach((blocks, replicate) => {
    blocks.forEach((entries, block) => {
      entries.forEach((entry, place) => {
        const code = `${letters[replicate * 3 + block]}${place + 1}`;
        const lie = { row: replicate + 1, column: block * 3 + place + 1 };
        const own = { id: code, code, replicate: String(replicate + 1), block: String(block + 1), ...lie };
        plots.push({ ...blocksOf([names[entry]], 1, 8)[0], ...own });
        grams[code] = 8 * (worth[entry] + blockGain[replicate * 3 + block] + stray[plots.length - 1]);
        counts[code] = entry === 3 ? 2 + (replicate % 2) : 6 + ((entry + replicate) % 3);
      });
    });
  });
  return inventedRecord({
    design: "incomplete-blocks",
    plots,
    varieties: names,
    check: "Hollin",
    rule: { ...rule, survivalFloor: 0.5, yieldFloor: 0.8 },
    assessments,
    facts: [...counted(march, counts), ...picked(march, grams)],
  });
}

const five: ByBlock = {
  Hollin: [7, 6, 8, 7],
  Pennick: [8, 8, 7, 8],
  Carrow: [6, 7, 6, 7],
  "Tansy Mill": [5, 6, 4, 6],
  Thornlea: [1, 0, 2, 0],
};

function clearWinner(): TrialRecord {
  return inBlocks(
    { Hollin: [3, 4, 2, 4, 3], Pennick: [8, 8, 7, 8, 8], Carrow: [4, 3, 4, 5, 3], Thornlea: [0, 1, 0, 0, 1] },
    { check: "Hollin", tenderCheck: "Thornlea" },
  );
}

function missingBlock(): TrialRecord {
  return inBlocks(
    { Hollin: [7, 6, 8, null], Pennick: [5, 6, 4, null], Carrow: [2, 3, 1, null], Thornlea: [1, 0, 2, null] },
    { check: "Hollin", tenderCheck: "Thornlea" },
  );
}

function confounded(): TrialRecord {
  const plots = blocksOf(["Hollin", "Pennick", "Carrow"], 4, 8).map((plot) => ({
    ...plot,
    cover: Number(plot.block) <= 2 ? "fleece" : null,
  }));
  return inBlocks(
    { Hollin: [8, 7, 4, 3], Pennick: [8, 8, 5, 4], Carrow: [7, 8, 2, 3] },
    { plots, check: "Hollin" },
  );
}

function gapFilled(): TrialRecord {
  const record = inBlocks({ Hollin: [7, 6, 8], Pennick: [7, 8, 6], Carrow: [5, 4, 6] }, { check: "Hollin" });
  const early = day("2026-09-20");
  const late = day("2026-10-25");
  return {
    ...record,
    facts: [
      ...record.facts,
      lost("A2", 2, "slugs", early),
      fact({ plotId: "A2", kind: "added", amount: 2, seenOn: early }),
      lost("B3", 3, "flea-beetle", day("2026-10-20")),
      fact({ plotId: "B3", kind: "added", amount: 3, cohortOn: late, seenOn: late }),
    ],
  };
}

function miscounts(): TrialRecord {
  const record = inBlocks({ Hollin: [7, 6, 8], Pennick: [7, 8, 6], Carrow: [5, 4, 6] }, { check: "Hollin" });
  const earlier = counted(january, { A1: 5, B2: 6, C3: 6 });
  return { ...record, facts: [...earlier, ...record.facts] };
}

function wipedOut(): TrialRecord {
  const standing: ByBlock = { Hollin: [8, 7, 8, 7], Pennick: [8, 8, 7, 8], Carrow: [6, 0, 7, 5] };
  const record = inBlocks(standing, { check: "Hollin", rule: { ...rule, yieldFloor: 0.9 } });
  const grams = { Hollin: [820, 760, 900, 790], Pennick: [1010, 930, 1080, 990], Carrow: [600, 0, 720, 500] };
  return { ...record, facts: [...record.facts, ...picked(march, byPlot(record.plots, grams))] };
}

function boltedEarly(): TrialRecord {
  const clearBy = day("2027-04-20");
  const record = inBlocks(
    { Hollin: [7, 8, 7, 8], Pennick: [8, 8, 7, 8], Carrow: [8, 7, 8, 8] },
    { check: "Hollin", clearBy, rule: { ...rule, survivalFloor: null, yieldFloor: 0.9 } },
  );
  const bolted = day("2027-03-10");
  const stems = record.plots
    .filter((plot) => plot.variety === "Carrow")
    .map((plot) =>
      fact({
        plotId: plot.id,
        kind: "count",
        trait: "first flower stem",
        amount: 6,
        unit: "count",
        seenOn: bolted,
      }),
    );
  const early = { Hollin: [210, 230, 200, 240], Pennick: [260, 250, 240, 270], Carrow: [280, 300, 260, 290] };
  const late = { Hollin: [410, 450, 400, 430], Pennick: [390, 430, 420, 440], Carrow: [20, 30, 10, 25] };
  return {
    ...record,
    facts: [
      ...record.facts,
      ...stems,
      ...picked(day("2027-02-20"), byPlot(record.plots, early)),
      ...picked(march, byPlot(record.plots, late)),
    ],
  };
}

function freelyDealt(): TrialRecord {
  const record = inBlocks(
    { Hollin: [7, 6, 8, 7], Pennick: [8, 8, 7, 8], Carrow: [3, 6, 1, 7] },
    {
      design: "crd",
      check: "Hollin",
      plots: blocksOf(["Hollin", "Pennick", "Carrow"], 4, 8).map((plot) => ({ ...plot, block: null })),
    },
  );
  const grams = { Hollin: [640, 560, 700, 610], Pennick: [760, 790, 720, 800], Carrow: [220, 480, 90, 560] };
  return { ...record, facts: [...record.facts, ...picked(march, byPlot(record.plots, grams))] };
}

/** The winter before, of the variety that did well this time: it died then. */
const otherWinter: Record<string, SeasonCount[]> = {
  Pennick: [{ season: "2025/26", standing: 4, effectivePlants: 18 }],
  Hollin: [{ season: "2025/26", standing: 15, effectivePlants: 18 }],
};

export const goldenTrials: GoldenTrial[] = [
  { name: "01-clear-winner", record: clearWinner() },
  {
    name: "02-no-clear-difference",
    record: inBlocks({ Hollin: [6, 7, 5], Pennick: [7, 6, 6], Carrow: [5, 7, 6] }, { check: "Hollin" }),
  },
  {
    name: "03-all-dead",
    record: inBlocks(
      { Hollin: [0, 0, 0], Pennick: [0, 0, 0], Thornlea: [0, 0, 0] },
      { check: "Hollin", tenderCheck: "Thornlea" },
    ),
  },
  {
    name: "04-none-dead",
    record: inBlocks({ Hollin: [8, 8, 8], Pennick: [8, 8, 8], Carrow: [8, 8, 8] }, { check: "Hollin" }),
  },
  {
    name: "05-one-plot-decides",
    record: inBlocks(
      { Hollin: [8, 8, 8, 8], Pennick: [6, 7, 1, 6], Carrow: [8, 7, 8, 8] },
      { check: "Hollin", facts: [lost("C2", 5, "mammals"), lost("A2", 2, "cold")] },
    ),
  },
  { name: "06-cover-confounded", record: confounded() },
  { name: "07-missing-block", record: missingBlock() },
  {
    name: "08-unreplicated",
    record: inBlocks(
      { Hollin: [7], Pennick: [8], Carrow: [2], Thornlea: [0] },
      { check: "Hollin", tenderCheck: "Thornlea" },
    ),
  },
  {
    name: "09-cover-and-variety-depend",
    record: onMainPlots(
      { net: { cover: "net" }, fleece: { cover: "fleece" } },
      {
        "net Pennick": [7, 6, 8, 7, 8],
        "net Hollin": [5, 4, 6, 5, 6],
        "net Carrow": [1, 2, 0, 1, 1],
        "fleece Pennick": [8, 7, 8, 8, 7],
        "fleece Hollin": [6, 5, 7, 6, 6],
        "fleece Carrow": [7, 8, 6, 8, 7],
      },
      {
        "net Pennick": [410, 380, 450, 400, 430],
        "net Hollin": [300, 260, 340, 290, 310],
        "net Carrow": [60, 110, 20, 50, 70],
        "fleece Pennick": [520, 480, 560, 500, 510],
        "fleece Hollin": [360, 330, 420, 370, 350],
        "fleece Carrow": [430, 470, 390, 480, 440],
      },
    ),
  },
  {
    name: "10-two-winters-disagree",
    record: inBlocks(five, { check: "Hollin", tenderCheck: "Thornlea" }),
    earlier: otherWinter,
  },
  { name: "11-look-see", record: lookSee() },
  {
    name: "12-latin-square",
    record: square(
      [
        [7, 8, 3, 6],
        [8, 2, 7, 7],
        [4, 6, 8, 8],
        [6, 7, 8, 1],
      ],
      [
        ["Hollin", "Pennick", "Thornlea", "Carrow"],
        ["Pennick", "Thornlea", "Carrow", "Hollin"],
        ["Thornlea", "Carrow", "Hollin", "Pennick"],
        ["Carrow", "Hollin", "Pennick", "Thornlea"],
      ],
    ),
  },
  { name: "13-incomplete-blocks", record: incompleteBlocks() },
  { name: "14-gaps-filled", record: gapFilled() },
  { name: "15-miscounts-to-settle", record: miscounts() },
  {
    name: "16-tender-check-stood",
    record: inBlocks(
      { Hollin: [8, 7, 8, 8], Pennick: [8, 8, 7, 8], Thornlea: [7, 6, 8, 7] },
      { check: "Hollin", tenderCheck: "Thornlea" },
    ),
  },
  {
    name: "17-no-check",
    record: inBlocks({ Pennick: [8, 7, 8], Carrow: [2, 1, 3], "Tansy Mill": [6, 7, 5] }),
  },
  { name: "18-a-plot-wiped-out", record: wipedOut() },
  { name: "19-bolted-early", record: boltedEarly() },
  {
    name: "20-rule-changed-after-data",
    record: inBlocks(five, {
      check: "Hollin",
      tenderCheck: "Thornlea",
      rule: { ...rule, version: 2, survivalFloor: 0.5, reason: "Nothing met sixty." },
      ruleChangedAfterData: true,
    }),
  },
  { name: "21-freely-dealt-unlike-spreads", record: freelyDealt() },
  {
    name: "22-winter-still-running",
    record: inventedRecord({
      plots: blocksOf(["Hollin", "Pennick", "Thornlea"], 3, 8),
      check: "Hollin",
      tenderCheck: "Thornlea",
      rule,
      assessments,
      facts: counted(
        took,
        byPlot(blocksOf(["Hollin", "Pennick", "Thornlea"], 3, 8), {
          Hollin: [8, 8, 7],
          Pennick: [8, 8, 8],
          Thornlea: [8, 7, 8],
        }),
      ),
    }),
  },
  {
    name: "23-two-winters-agree",
    record: inBlocks(five, { check: "Hollin", tenderCheck: "Thornlea" }),
    earlier: {
      Pennick: [{ season: "2025/26", standing: 17, effectivePlants: 19 }],
      Hollin: [{ season: "2025/26", standing: 15, effectivePlants: 18 }],
    },
  },
  {
    name: "24-a-plot-left-the-trial",
    record: inBlocks(five, {
      check: "Hollin",
      tenderCheck: "Thornlea",
      amendments: [
        { plotId: "B2", kind: "excluded", fromOn: january, reason: "Drowned under a blown-off cover." },
      ],
    }),
  },
  {
    name: "25-open-beside-fleece",
    record: onMainPlots(
      { open: { cover: null }, fleece: { cover: "White fleece" } },
      {
        "open Pennick": [7, 6, 8],
        "open Hollin": [5, 7, 6],
        "open Carrow": [3, 5, 4],
        "fleece Pennick": [8, 7, 8],
        "fleece Hollin": [6, 8, 7],
        "fleece Carrow": [5, 6, 4],
      },
      null,
    ),
  },
  {
    name: "26-two-sowings",
    record: onMainPlots(
      { early: { sownOn: day("2026-08-01") }, late: { sownOn: day("2026-09-05") } },
      {
        "early Pennick": [7, 8],
        "early Hollin": [6, 7],
        "early Carrow": [5, 4],
        "late Pennick": [5, 3],
        "late Hollin": [3, 4],
        "late Carrow": [1, 0],
      },
      null,
    ),
  },
  {
    name: "27-a-plot-wiped-out-under-covers",
    record: onMainPlots(
      { net: { cover: "net" }, fleece: { cover: "fleece" } },
      {
        "net Pennick": [7, 6, 0, 7],
        "net Hollin": [7, 5, 6, 6],
        "net Carrow": [4, 3, 5, 4],
        "fleece Pennick": [8, 7, 8, 8],
        "fleece Hollin": [7, 8, 7, 8],
        "fleece Carrow": [6, 7, 6, 6],
      },
      {
        "net Pennick": [390, 350, 0, 410],
        "net Hollin": [300, 240, 260, 280],
        "net Carrow": [170, 140, 210, 180],
        "fleece Pennick": [520, 470, 510, 530],
        "fleece Hollin": [380, 410, 360, 400],
        "fleece Carrow": [290, 330, 280, 300],
      },
    ),
  },
];
