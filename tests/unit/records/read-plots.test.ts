import { describe, expect, it } from "vitest";
import { readPlots } from "@/lib/records/read-plots";

function faultsOf(text: string) {
  const outcome = readPlots(text, "plots.csv");
  if (outcome.ok) throw new Error("it was read");
  return outcome.faults.map(({ place, found, wanted }) => `${place} | ${found} | ${wanted}`);
}

describe("plots.csv", () => {
  it("is read with its columns in any order, in capitals, with a byte-order mark and either line end", () => {
    const plain = "plot,variety,block,plants,area_m2\nA1,Pennick,1,6,0.54\nA2,Hollin,1,6,0.54\n";
    const other =
      "\uFEFFAREA_M2,Plants,Block,Variety,Plot\r\n0.54,6,1,Pennick,A1\r\n\r\n0.54,6,1,Hollin,A2\r\n";
    const one = readPlots(plain, "plots.csv");
    const two = readPlots(other, "plots.csv");
    if (!one.ok || !two.ok) throw new Error("not read");
    expect(one.value.rows[0]).toEqual({
      line: 2,
      plot: "A1",
      variety: "Pennick",
      replicate: null,
      block: "1",
      mainPlot: null,
      row: null,
      column: null,
      cover: null,
      companion: null,
      sownOn: null,
      plantedOn: null,
      plants: 6,
      areaM2: 0.54,
      notes: {},
    });
    const withoutLine = (rows: typeof one.value.rows) => rows.map((row) => ({ ...row, line: 0 }));
    expect(withoutLine(two.value.rows)).toEqual(withoutLine(one.value.rows));
    expect(two.value.rows[1].line).toBe(4);
  });

  it("keeps unknown columns as notes and names them", () => {
    const outcome = readPlots("plot,variety,Soil,colour\nA1,Pennick,heavy,\n", "plots.csv");
    expect(outcome).toMatchObject({
      ok: true,
      value: { unknownColumns: ["Soil", "colour"], rows: [{ notes: { Soil: "heavy" } }] },
    });
  });

  it("keeps commas, quotes and line ends inside quoted values, and still counts lines", () => {
    const text = 'plot,variety,cover\n"A,1","The ""old"" one","two\nlines"\nA2,Hollin,\nA2,Hollin,\n';
    expect(faultsOf(text)).toEqual(["plots.csv:5:plot | A2 | a name of its own: line 4 has it already"]);
  });

  it("lists every fault with line, column, what was found and what is wanted", () => {
    const text = [
      "plot,variety,plants,sown_on,planted_on,row,area_m2",
      "A1,Pennick,six,2026-08-01,2026-09-20,1,0.5",
      ",Hollin,0,2026-02-30,20/9/2026,-1,0",
      "A3,,6.5,2026-09-21,2026-09-20,1,0.5",
    ].join("\n");
    const whole = "a whole number from 1 to 100000";
    expect(faultsOf(text)).toEqual([
      `plots.csv:2:plants | six | ${whole}`,
      "plots.csv:3:plot | nothing | the plot's name",
      "plots.csv:3:sown_on | 2026-02-30 | a date such as 4 Mar 2027 or 2027-03-04",
      "plots.csv:3:planted_on | 20/9/2026 | a date such as 4 Mar 2027 or 2027-03-04",
      `plots.csv:3:row | -1 | ${whole}`,
      `plots.csv:3:plants | 0 | ${whole}`,
      "plots.csv:3:area_m2 | 0 | an area in m² above 0",
      "plots.csv:4:variety | nothing | the variety's name",
      "plots.csv:4:planted_on | 2026-09-20 | the sowing date, 2026-09-21, or later",
      `plots.csv:4:plants | 6.5 | ${whole}`,
    ]);
  });

  it("refuses what is no such file: nothing, no rows, a missing or doubled column, semicolons, a lost quote", () => {
    expect(faultsOf("")).toEqual(["plots.csv:1:1 | nothing | a first row with the columns plot and variety"]);
    expect(faultsOf("plot,variety\n")).toEqual(["plots.csv:2:1 | nothing | at least one row of values"]);
    expect(faultsOf("name,variety\nA1,Pennick")).toEqual([
      "plots.csv:1:plot | the columns name, variety | a column named plot",
    ]);
    expect(faultsOf("plot,variety,plot\nA1,Pennick,A1")).toEqual([
      "plots.csv:1:plot | plot twice | each column once",
    ]);
    expect(faultsOf("plot;variety\nA1;Pennick")).toEqual([
      "plots.csv:1:1 | plot;variety | commas between the values; here they are semicolons or tabs",
    ]);
    expect(faultsOf('plot,variety\nA1,"Pennick\nA2,Hollin')[0]).toMatch(
      /^plots\.csv:2:1 \| .* a quoted value/,
    );
    expect(faultsOf("plot,variety\nA1,Pennick,6")).toEqual([
      "plots.csv:2:3 | 6 | 2 values, one for each column",
    ]);
    expect(faultsOf("plot,variety\nA1,Cr\uFFFDme")).toEqual([
      "plots.csv:2:variety | Cr\uFFFDme | text saved as UTF-8",
    ]);
  });
});
