import {
  coverCells,
  type DecidingCell,
  decidingCells,
  familyCells,
  fixedCells,
  fullCells,
  lookSeeCells,
  lopsidedCells,
  luckCells,
  type SurvivalCell,
  singleCells,
  studiedFloor,
  unevenCells,
} from "./calibration-cells";
import { type Result, runInPasses, runOnce } from "./calibration-crew";
import { coverage, percent, printTable, summary } from "./calibration-tables";
import type { Tally } from "./calibration-trials";

const methodWords = {
  independent: "plants taken as independent",
  published: "published form (ANOVA ICC, t)",
  effective: "**effective plants**",
  known: "if the ICC were known",
};
type Method = keyof typeof methodWords;
const methods = Object.keys(methodWords) as Method[];

/** The tallies of one variety (the first and the second of each cell) or of their difference. */
function talliesOf(
  results: Result<SurvivalCell>[],
  method: Method,
  what: "one variety" | "difference",
): Tally[] {
  const names = what === "difference" ? ["difference"] : ["first", "second"];
  return results.flatMap(({ tallies }) => names.flatMap((name) => tallies[`${method} ${name}`] ?? []));
}

function printCoverage(results: Result<SurvivalCell>[]): void {
  const rows = (["one variety", "difference"] as const).flatMap((what) =>
    methods.flatMap((method) => {
      const tallies = talliesOf(results, method, what);
      if (tallies.length === 0) return [];
      const { cells, least, first, mean, over, width } = summary(tallies);
      return [
        [
          what,
          methodWords[method],
          cells,
          percent(least),
          percent(first),
          percent(mean),
          percent(over),
          percent(width, 0),
        ],
      ];
    }),
  );
  printTable(["interval", "method", "cells", "min", "1 %", "mean", "cells over 98.5", "width"], rows);
}

function printTargets(
  full: Result<SurvivalCell>[],
  uneven: Result<SurvivalCell>[],
  lopsided: Result<SurvivalCell>[],
  deciding: Result<DecidingCell>[],
): void {
  const rows = (
    [
      ["full plots", full],
      ["unequal and missing plots", uneven],
      ["one variety beside many near 1", lopsided],
    ] as const
  ).flatMap(([name, results]) =>
    (["one variety", "difference"] as const).flatMap((what) => {
      const mild = summary(
        talliesOf(
          results.filter(({ cell }) => cell.icc <= 0.2),
          "effective",
          what,
        ),
      );
      const strong = summary(
        talliesOf(
          results.filter(({ cell }) => cell.icc > 0.2),
          "effective",
          what,
        ),
      );
      const all = summary(talliesOf(results, "effective", what));
      const said = (met: boolean) => (met ? "met" : "**missed**");
      const found = [
        [
          `${name}, ${what}: every cell with ICC ≤ 0.2 at least 93 %`,
          percent(mild.least),
          said(mild.least >= 0.93),
        ],
        [
          `${name}, ${what}: every cell at ICC 0.3 at least 92 %`,
          percent(strong.least),
          said(strong.least >= 0.92),
        ],
        [
          `${name}, ${what}: mean over the grid 95 to 98 %`,
          percent(all.mean),
          said(all.mean >= 0.95 && all.mean <= 0.98),
        ],
      ];
      if (what === "one variety") {
        const most = summary(
          talliesOf(
            results.filter(({ cell }) => cell.icc >= 0.2),
            "effective",
            what,
          ),
        );
        found.push([
          `${name}, ${what}: at ICC ≥ 0.2 at most 98.5 %`,
          `${percent(most.over)} % of cells over`,
          said(most.over === 0),
        ]);
      }
      return found;
    }),
  );
  for (const sureness of [0.8, 0.9]) {
    const atFloor = deciding.filter(({ cell }) => cell.shares[0] === studiedFloor);
    const rates = atFloor.map(({ tallies }) => coverage(tallies[`effective ${sureness} grow`]));
    const mean = rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
    rows.push([
      `at the floor, sureness ${sureness}: wrong *grow again* at most about ${percent(1 - sureness, 0)} %`,
      `mean ${percent(mean)}, most in a cell ${percent(Math.max(...rates))}`,
      // “About”: the lattice of small counts moves single cells, so the mean is held to the mark.
      mean <= 1 - sureness ? "met on average" : "**missed**",
    ]);
  }
  printTable(["target", "found", ""], rows);
}

function printByBlocks(results: Result<SurvivalCell>[]): void {
  for (const what of ["one variety", "difference"] as const) {
    const keys = [...new Set(results.map(({ cell }) => `${cell.varieties} ${cell.blocks}`))];
    const rows = keys.map((key) => {
      const own = results.filter(({ cell }) => `${cell.varieties} ${cell.blocks}` === key);
      return [
        ...key.split(" "),
        ...(["published", "effective", "known"] as const).map((method) => {
          const { least, mean, width } = summary(talliesOf(own, method, what));
          return `${percent(least)} / ${percent(mean)} / ${percent(width, 0)}`;
        }),
      ];
    });
    console.log(`${what === "difference" ? "Difference" : "One variety"}, min / mean / width:\n`);
    printTable(["varieties", "blocks", "published", "effective plants", "ICC known"], rows);
  }
}

function printByIcc(results: Result<SurvivalCell>[]): void {
  const rows = [...new Set(results.map(({ cell }) => cell.icc))].flatMap((icc) =>
    (["one variety", "difference"] as const).map((what) => {
      const own = results.filter(({ cell }) => cell.icc === icc);
      return [
        icc,
        what,
        ...methods.map((method) => {
          const tallies = talliesOf(own, method, what);
          if (tallies.length === 0) return "–";
          const { least, mean, width } = summary(tallies);
          return `${percent(least)} / ${percent(mean)} / ${percent(width, 0)}`;
        }),
      ];
    }),
  );
  printTable(["ICC", "interval", ...methods.map((method) => methodWords[method])], rows);
}

async function printStudy(): Promise<void> {
  console.log("# Calibration\n");
  console.log(
    "Printed by `npm run calibrate`. Coverage is in %, width in percentage points. Truth: beta-binomial plots on a logit model of variety + block; unless said, each trial moves every variety's logit by −0.4 to 0.4, so that the lattice of small counts decides no cell. The target of an interval is the share over the blocks of this bed. Cells are run in passes of 300, 1,200 and 6,000 trials: one that looks low (below 95.5 %, then 94.3 %), or too safe (one variety above 98.5 % at ICC ≥ 0.2), is run again on new trials, and only its last pass counts; one pass of 300 leaves about 1.2 points of noise in a cell, of 6,000 about 0.3.\n",
  );
  console.log(
    "*Effective plants* is our own construction of published parts (dispersion as design effect, Wilson 1927, Newcombe 1998, a prior on the ICC), not a published interval: these tables are its evidence.\n",
  );

  const full = await runInPasses(fullCells, 1_000_000);
  const uneven = await runInPasses(unevenCells, 2_000_000);
  const lopsided = await runInPasses(lopsidedCells, 2_500_000);
  const deciding = await runOnce(decidingCells, 1500, 5_000_000);
  console.log("## Targets\n");
  printTargets(full, uneven, lopsided, deciding);
  console.log("## Full plots\n");
  console.log(
    "3, 4, 6 and 12 varieties; 2 to 5 blocks; 4, 8 and 12 plants a plot; ICC 0 to 0.3; block spread 0 and 0.8 on the logit; five patterns of true shares taken in turn (0.5 and 0.8; 0.8; 0.95 and 0.7; 0.5 and 0.98; 0.7 and 0.9 with the third variety dead).\n",
  );
  printCoverage(full);
  printByIcc(full);
  printByBlocks(full);
  console.log("## Unequal plots, and plots missing\n");
  console.log(
    "3, 4 and 6 varieties; 2 to 4 blocks of 8. Half to all of the plants in each plot; or each plot missing with chance 0.15.\n",
  );
  for (const layout of ["unequal", "missing"] as const) {
    console.log(`${layout === "unequal" ? "Unequal" : "Missing"}:\n`);
    printCoverage(uneven.filter(({ cell }) => cell.layout === layout));
    printByIcc(uneven.filter(({ cell }) => cell.layout === layout));
  }

  console.log("## One variety beside many that nearly all live\n");
  console.log(
    "The first variety at 0.5 or 0.8, all others at 0.98; 4, 6 and 12 varieties; 2 to 4 blocks of 8 and 12. Harsher than the grid: most of the scatter is one variety's own, the others add df and little else.\n",
  );
  printCoverage(lopsided);
  printByIcc(lopsided);
  printByBlocks(lopsided);

  console.log("## Fixed shares against locally averaged ones\n");
  console.log(
    "4 varieties alike in 3 blocks of 8; 4,000 trials a cell; one variety, effective plants, fixed / averaged.\n",
  );
  const fixed = await runOnce(fixedCells, 4000, 3_000_000);
  const shares = [...new Set(fixedCells.map((cell) => cell.shares[0]))];
  printTable(
    ["ICC", ...shares.map(String)],
    [...new Set(fixedCells.map((cell) => cell.icc))].map((icc) => [
      icc,
      ...shares.map((share) =>
        [false, true]
          .map((jitter) => {
            const own = fixed.filter(
              ({ cell }) => cell.icc === icc && cell.shares[0] === share && cell.jitter === jitter,
            );
            return percent(summary(talliesOf(own, "effective", "one variety")).mean);
          })
          .join(" / "),
      ),
    ]),
  );

  console.log("## Families against the check\n");
  console.log("All differences to the check at once, 1,500 trials a cell: min / mean / mean width.\n");
  const family = await runOnce(familyCells, 1500, 4_000_000);
  printTable(
    ["varieties", "each at 95 %", "family"],
    [...new Set(familyCells.map((cell) => cell.varieties))].map((varieties) => {
      const own = family.filter(({ cell }) => cell.varieties === varieties);
      return [
        varieties,
        ...["each at 95 %", "family"].map((name) => {
          const { least, mean, width } = summary(own.map(({ tallies }) => tallies[name]));
          return `${percent(least)} / ${percent(mean)} / ${percent(width, 0)}`;
        }),
      ];
    }),
  );

  console.log("## Verdicts\n");
  console.log(
    `Floor ${studiedFloor}, one floor in the rule, 1,500 trials a cell; 3 and 6 varieties, 2 to 4 blocks of 6 and 12, ICC 0 to 0.2. Share of trials, mean (most over cells).\n`,
  );
  const rate = (own: typeof deciding, name: string) => {
    const rates = own.map(({ tallies }) => coverage(tallies[name]));
    return `${percent(rates.reduce((sum, value) => sum + value, 0) / rates.length)} (${percent(Math.max(...rates))})`;
  };
  for (const sureness of [0.8, 0.9]) {
    console.log(`Sureness ${sureness}:\n`);
    printTable(
      ["true share", "grow again", "drop", "grow again, independent", "drop, independent"],
      [...new Set(decidingCells.map((cell) => cell.shares[0]))].map((share) => {
        const own = deciding.filter(({ cell }) => cell.shares[0] === share);
        return [
          share,
          ...["effective", "independent"].flatMap((method) => [
            rate(own, `${method} ${sureness} grow`),
            rate(own, `${method} ${sureness} drop`),
          ]),
        ];
      }),
    );
  }
  console.log("At the floor, by ICC:\n");
  printTable(
    ["ICC", "sureness", "grow again", "drop", "grow again, independent", "drop, independent"],
    [...new Set(decidingCells.map((cell) => cell.icc))].flatMap((icc) =>
      [0.8, 0.9].map((sureness) => {
        const own = deciding.filter(({ cell }) => cell.icc === icc && cell.shares[0] === studiedFloor);
        return [
          icc,
          sureness,
          ...["effective", "independent"].flatMap((method) => [
            rate(own, `${method} ${sureness} grow`),
            rate(own, `${method} ${sureness} drop`),
          ]),
        ];
      }),
    ),
  );

  console.log("## One plot a variety\n");
  console.log("3, 6 and 10 varieties, one plot each of 6, 8 or 12; 1,000 trials a cell. The prior alone.\n");
  const single = await runOnce(singleCells, 1000, 6_000_000);
  printCoverage(single);
  printByIcc(single);

  console.log("## Covers on main plots\n");
  console.log(
    "Two covers, 3 and 4 varieties, 2 to 4 blocks of 6 and 10, ICC 0 to 0.2, spread between main plots 0 to 0.6 on the logit; 1,000 trials a cell: min / mean / mean width.\n",
  );
  const cover = await runOnce(coverCells, 1000, 7_000_000);
  const coverNames = ["cover", "variety within a cover", "variety × cover"];
  printTable(
    ["blocks", ...coverNames],
    [2, 3, 4].map((blocks) => {
      const own = cover.filter(({ cell }) => cell.blocks === blocks);
      return [
        blocks,
        ...coverNames.map((name) => {
          const { least, mean, width } = summary(own.map(({ tallies }) => tallies[name]));
          return `${percent(least)} / ${percent(mean)} / ${percent(width, 0)}`;
        }),
      ];
    }),
  );

  console.log("## Look-see beds\n");
  console.log(
    "Eight entries once, 2 to 6 checks, 8 plants a plot, ICC 0 to 0.2, ground even or rising by 0.8 on the logit from end to end; 400 trials a cell: min / mean / mean width.\n",
  );
  const lookSee = await runOnce(lookSeeCells, 400, 8_000_000);
  printTable(
    ["checks", "rise", "entry", "entry − two nearest checks"],
    [2, 3, 4, 6].flatMap((checks) =>
      [0, 0.8].map((trend) => {
        const own = lookSee.filter(({ cell }) => cell.checks === checks && cell.trend === trend);
        return [
          checks,
          trend,
          ...["entry", "difference"].map((name) => {
            const { least, mean, width } = summary(own.map(({ tallies }) => tallies[name]));
            return `${percent(least)} / ${percent(mean)} / ${percent(width, 0)}`;
          }),
        ];
      }),
    ),
  );

  console.log("## Randomisation tests\n");
  console.log(
    "Four blocks of 8; share of 1,500 trials with p ≤ 0.05 for the first variety against the second (the check).\n",
  );
  const luck = await runOnce(luckCells, 1500, 9_000_000);
  printTable(
    ["truth", "ICC", "the pair alone", "within the family"],
    luck.map(({ cell, tallies }) => [
      cell.name,
      cell.icc,
      percent(coverage(tallies.pair)),
      percent(coverage(tallies.family)),
    ]),
  );
}

await printStudy();
