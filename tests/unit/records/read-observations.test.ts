import { describe, expect, it } from "vitest";
import { readObservations } from "@/lib/records/read-observations";
import { readPlots } from "@/lib/records/read-plots";

const plotsFile = readPlots(
  "plot,variety,planted_on\nA1,Pennick,2026-09-20\nA2,Hollin,2026-09-20\n",
  "plots.csv",
);
const plots = plotsFile.ok ? plotsFile.value.rows : [];
const read = (text: string) => readObservations(text, "observations.csv", plots);

function rowsOf(text: string) {
  const outcome = read(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.value.rows;
}

function faultsOf(text: string) {
  const outcome = read(text);
  if (outcome.ok) throw new Error("it was read");
  return outcome.faults.map(({ place, found, wanted }) => `${place} | ${found} | ${wanted}`);
}

describe("observations.csv", () => {
  it("is read row by row, with each kind's own unit where none is given", () => {
    const rows = rowsOf(
      [
        "seen_on,plot,kind,cause,trait,part,amount,unit,by,note",
        "2026-10-01,A1,stand,,,,5,,Ina,",
        "2026-10-01,A1,loss,flea beetle,,,1,plants,Ina,",
        "2026-10-01,A2,loss,,,,1,,,",
        "2026-10-01,A2,loss,Hungry goose,,,1,,,",
        '2026-12-01,A1,harvest,,,leaf,"450,5",g,,',
        "2026-12-01,A2,harvest,,,leaf,,,,rain",
        "4 Mar 2027,A2,score,,cold damage,,3,,,",
        "2027-03-04,A2,not-seen,,,,,,,snow",
      ].join("\n"),
    );
    expect(rows.map(({ kind, cause, amount, unit }) => [kind, cause, amount, unit])).toEqual([
      ["stand", null, 5, "plants"],
      ["loss", "flea-beetle", 1, "plants"],
      ["loss", "unknown", 1, "plants"],
      ["loss", "hungry-goose", 1, "plants"],
      ["harvest", null, 450.5, "g"],
      ["harvest", null, null, "g"],
      ["score", null, 3, "score"],
      ["not-seen", null, null, null],
    ]);
    expect(rows[6].seenOn).toBe("2027-03-04");
    expect(rows[7]).toMatchObject({ line: 9, note: "snow", by: null });
  });

  it("takes a growth stage by its two figures, and refuses one that is not on the scale", () => {
    const rows = rowsOf(
      "seen_on,plot,kind,trait,amount\n2027-03-04,A1,count,BBCH,05\n2027-03-04,A2,count,bbch,99\n",
    );
    expect(rows.map(({ trait, amount, unit }) => [trait, amount, unit])).toEqual([
      ["bbch", 5, "count"],
      ["bbch", 99, "count"],
    ]);
    expect(
      faultsOf(
        "seen_on,plot,kind,trait,amount\n2027-03-04,A1,count,bbch,100\n2027-03-04,A2,count,bbch,4.1\n",
      ),
    ).toEqual([
      "observations.csv:2:amount | 100 | a growth stage (BBCH) from 00 to 99",
      "observations.csv:3:amount | 4.1 | a growth stage (BBCH) from 00 to 99",
    ]);
  });

  it("follows ids within the file, and takes full ids of facts kept elsewhere", () => {
    const rows = rowsOf(
      [
        "seen_on,plot,kind,amount,id,replaces,note",
        "2026-10-01,A1,stand,5,r1,,",
        "2026-10-01,A1,stand,4,r2,r1,miscounted",
        "2026-10-02,A1,withdrawn,,,01930000-0000-7000-8000-000000000001,another bed",
      ].join("\n"),
    );
    expect(rows.map((row) => row.replaces)).toEqual([null, "r1", "01930000-0000-7000-8000-000000000001"]);
  });

  it("lists every fault with line, column, what was found and what is wanted", () => {
    const text = [
      "seen_on,plot,kind,cause,trait,part,amount,unit,id,replaces,note",
      "2026-10-01,A9,stand,,,,5,,x,,",
      "2026-13-01,a1,stand,,,,-5,,x,,",
      "2026-10-01,A1,eaten,,,,,,,,",
      "2026-10-01,A1,stand,,,,1.5,,,nobody,",
      "2026-10-01,A1,stand,,,,,g,,,",
      "2026-10-01,A1,removed,,,,1,,,,",
      "2026-10-01,A1,score,,,,12,,,,",
      '2026-10-01,A1,harvest,,,flower,"1,200",g,,,',
      "2026-09-01,A1,loss,slugs,,,1,,,,",
      "2026-10-01,A1,withdrawn,,,,,,,,",
      ",,,,,,,,,,only a note",
    ].join("\n");
    const kinds =
      "stand, loss, removed, added, regrew, doubtful, not-seen, score, count, harvest, ended, note or withdrawn";
    const parts = "leaf, head, root, bulb, green stem, pod, shelled or tops";
    const plants = "a whole number of plants";
    expect(faultsOf(text)).toEqual([
      "observations.csv:2:plot | A9 | a plot named in the plots file",
      "observations.csv:3:seen_on | 2026-13-01 | a date such as 4 Mar 2027 or 2027-03-04",
      "observations.csv:3:plot | a1 | A1, as it is written in the plots file",
      `observations.csv:3:amount | -5 | ${plants}`,
      "observations.csv:3:id | x | an id of its own: line 2 has it already",
      `observations.csv:4:kind | eaten | ${kinds}`,
      `observations.csv:5:amount | 1.5 | ${plants}`,
      "observations.csv:6:unit | g | plants",
      `observations.csv:6:amount | nothing | ${plants}`,
      "observations.csv:7:cause | nothing | a reason such as cut, thinned or moved",
      "observations.csv:8:amount | 12 | a score from 0 to 9",
      "observations.csv:8:trait | nothing | what the figure is of",
      "observations.csv:9:amount | 1,200 | a weight such as 450 or 1.2 kg, 0 or more; blank where it was not picked, without a thousands comma",
      `observations.csv:9:part | flower | ${parts}`,
      "observations.csv:10:seen_on | 2026-09-01 | the plot's planting date, 2026-09-20, or later",
      "observations.csv:11:replaces | nothing | the id of the row withdrawn",
      "observations.csv:11:note | nothing | why it is withdrawn",
      "observations.csv:12:seen_on | nothing | a date such as 4 Mar 2027 or 2027-03-04",
      "observations.csv:12:plot | nothing | a plot named in the plots file",
      `observations.csv:12:kind | nothing | ${kinds}`,
      "observations.csv:5:replaces | nobody | the id of a row in this file, or a full id",
    ]);
  });

  it("keeps unknown columns as notes and names them", () => {
    const outcome = read("kind,plot,seen_on,weather\nnote,A1,2026-10-01,sleet\n");
    expect(outcome).toMatchObject({
      ok: true,
      value: { unknownColumns: ["weather"], rows: [{ notes: { weather: "sleet" } }] },
    });
  });
});
