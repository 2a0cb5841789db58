import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { GET as lookRoute } from "@/app/api/import/look/route";
import { POST as stage } from "@/app/api/import/route";
import { listWeather } from "@/db/queries/list-weather";
import { guessMapping } from "@/lib/records/column-mapping";
import { importFields, type MappedKind } from "@/lib/records/import-fields";
import { openTable } from "@/lib/records/open-table";
import { checkHouse } from "@/lib/service/check-house";
import { type House, shareHouse } from "@/lib/service/house";
import { type ImportAnswer, type ImportAsked, ImportStopped } from "@/lib/service/import-asked";
import { importTable } from "@/lib/service/import-table";
import { importUnsent } from "@/lib/service/import-unsent";
import { dropStaged, stagedFiles } from "@/lib/service/staged-files";
import { startGarden } from "@/lib/service/start-garden";
import { trialLog } from "@/lib/service/trial-log";
import { unsentFile } from "@/lib/sync/device/unsent-file";
import type { Day } from "@/lib/words/day";
import { freshHouse, given, houseWithTrial, keptRecord, send, someFact, someGarden } from "./fresh-house";

const going = { isStopped: () => false };

/** A file as a person would choose it, handed out in small pieces. */
function fileOf(name: string, content: string | Uint8Array) {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
  return {
    name,
    *chunks() {
      for (let at = 0; at < bytes.length; at += 1000) yield bytes.subarray(at, at + 1000);
    },
  };
}

type Asked = ImportAsked & { kind: MappedKind };

/** Tries or takes in a file as the page would, with the columns guessed from their names unless they are given. */
function take(
  house: House,
  name: string,
  content: string | Uint8Array,
  asked: Partial<ImportAsked> & { kind: MappedKind },
  isWriting = true,
): ImportAnswer {
  const file = fileOf(name, content);
  const { columns } = given(openTable(file));
  const whole: Asked = {
    trialId: null,
    dayOrder: null,
    skipBlank: false,
    trial: { question: "", crop: "", check: "" },
    ...asked,
    mapping: { ...guessMapping(columns, importFields[asked.kind]), ...asked.mapping },
  };
  return importTable(house, whole, file, { isWriting, steps: going });
}

function gardenHouse() {
  const house = freshHouse();
  given(startGarden(house, someGarden));
  return house;
}

const places = (answer: ImportAnswer) =>
  answer.state === "faulty"
    ? answer.faults.map(({ place, found, wanted }) => `${place} | ${found} | ${wanted}`)
    : [answer.state];

const day = (text: string) => text as Day;

describe("a spreadsheet of old observations", () => {
  const spreadsheet = (rows: string[]) =>
    ["Mustard trial;;;;;", "", "Date;Plot;Standing;Remarks;Soil;Who", ...rows].join("\r\n");

  it("comes in with its dates, its decimal commas and the columns that have no field, and adds nothing when it comes again", () => {
    const { house, trialId, trial } = houseWithTrial();
    const [one, two] = trial.plots;
    const rows = [
      `21.11.2026;${one.code};3;all well;heavy;Ina`,
      `21.11.2026;${two.code.toLowerCase()};2;;;`,
      `05/12/2026;${two.code};2;;light;Ina`,
      `05/12/2026;${two.code};2;;light;Ina`,
    ];
    const asked = { kind: "observations" as const, trialId, mapping: { kind: { same: "stand" } } };
    const tried = take(house, "old.csv", spreadsheet(rows), asked, false);
    expect(tried).toMatchObject({ state: "ready", rows: 4, added: 4, already: 0 });
    expect(trialLog(house, trialId).lines).toEqual([]);
    expect(take(house, "old.csv", spreadsheet(rows), asked)).toMatchObject({ state: "done", added: 4 });
    const before = keptRecord(house.database);
    house.at = "2027-01-02T09:00:00.000Z" as typeof house.at;
    expect(take(house, "again.csv", spreadsheet(rows), asked)).toMatchObject({ added: 0, already: 4 });
    expect(keptRecord(house.database)).toEqual(before);
    const notes = house.database.$client
      .prepare('SELECT seen_on, amount, "by", note FROM observation ORDER BY device_seq')
      .all();
    expect(notes).toEqual([
      { seen_on: "2026-11-21", amount: 3, by: "Ina", note: "all well; Soil: heavy" },
      { seen_on: "2026-11-21", amount: 2, by: "", note: null },
      { seen_on: "2026-12-05", amount: 2, by: "Ina", note: "Soil: light" },
      { seen_on: "2026-12-05", amount: 2, by: "Ina", note: "Soil: light" },
    ]);
    expect(checkHouse(house).wrong).toEqual([]);
  });

  it("is refused whole when one row is at fault, with the place of every fault", () => {
    const { house, trialId, trial } = houseWithTrial();
    const code = trial.plots[0].code;
    const rows = [`21.11.2026;${code};3;;;`, `31.11.2026;Z9;three;;;`, `2026-11-21;${code};;;;`];
    const answer = take(house, "old.csv", spreadsheet(rows), {
      kind: "observations",
      trialId,
      mapping: { kind: { same: "stand" } },
    });
    expect(places(answer)).toEqual([
      "old.csv:5:Date | 31.11.2026 | a date with the day first, as in the rest of the file",
      "old.csv:5:Plot | Z9 | a plot of the trial",
      "old.csv:5:Standing | three | a whole number of plants",
      "old.csv:6:Standing | nothing | a whole number of plants",
    ]);
    expect(trialLog(house, trialId).lines).toEqual([]);
  });

  it("asks once which of day and month comes first, where every date leaves it open", () => {
    const { house, trialId, trial } = houseWithTrial();
    const code = trial.plots[0].code;
    const text = `date,plot,weight\n03/04/2027,${code},1.2 kg\n05/04/2027,${code},"1,5kg"\n`;
    const asked = { kind: "observations" as const, trialId, mapping: { kind: { same: "harvest" } } };
    expect(take(house, "picks.csv", text, asked)).toEqual({
      state: "ambiguous",
      example: "03/04/2027",
      place: "picks.csv:2:date",
      readings: { "day first": "2027-04-03", "month first": "2027-03-04" },
    });
    expect(take(house, "picks.csv", text, { ...asked, dayOrder: "day first" })).toMatchObject({ added: 2 });
    const kept = house.database.$client.prepare("SELECT seen_on, amount FROM observation").all();
    expect(kept).toEqual([
      { seen_on: "2027-04-03", amount: 1200 },
      { seen_on: "2027-04-05", amount: 1500 },
    ]);
  });

  it("follows a file's own ids to corrections, and does not take another fact under an id that is kept", () => {
    const { house, trialId, trial } = houseWithTrial();
    const code = trial.plots[0].code;
    const head = "seen_on,plot,kind,amount,id,replaces,note";
    const text = [head, `2026-11-21,${code},stand,2,x,,`, `2026-11-21,${code},stand,3,y,x,miscounted`].join(
      "\n",
    );
    expect(take(house, "o.csv", text, { kind: "observations", trialId })).toMatchObject({ added: 2 });
    expect(take(house, "o.csv", text, { kind: "observations", trialId })).toMatchObject({ already: 2 });
    const [line] = trialLog(house, trialId).lines;
    expect(line).toBeTruthy();
    const fact = someFact(trial.plots[1].id);
    send(house, [fact]);
    const other = [head, `2026-11-25,${trial.plots[1].code},stand,1,${fact.id},,`].join("\n");
    expect(places(take(house, "p.csv", other, { kind: "observations", trialId }))).toEqual([
      `p.csv:2:id | ${fact.id} | an id of its own: another fact is kept under this one`,
    ]);
  });
});

describe("a file of weather", () => {
  it("is kept by day and place, readings of one day together, and the last file holds while the first stays", () => {
    const house = gardenHouse();
    const text =
      "Time\tMin (°C)\tMax\tWhere\n2027-01-03 06:00\t-4,2\t1\t\n2027-01-03 14:00\t-1\t3.5\toutside\n4 Jan 2027\t30 °F\t\tLow tunnel\n";
    expect(take(house, "w.tsv", text, { kind: "weather" })).toMatchObject({
      state: "done",
      rows: 2,
      added: 2,
    });
    const january = () => listWeather(house.database, day("2027-01-01"), day("2027-01-31"));
    expect(january()).toEqual([
      { day: "2027-01-03", place: "outside", minDeciC: -42, maxDeciC: 35 },
      { day: "2027-01-04", place: "Low tunnel", minDeciC: -11, maxDeciC: null },
    ]);
    expect(take(house, "w.tsv", text, { kind: "weather" })).toMatchObject({ added: 0, already: 2 });
    const later = take(house, "v.csv", "day,min_c,max_c\n2027-01-03,-5,3\n", { kind: "weather" });
    expect(later).toMatchObject({ added: 1, said: [expect.stringContaining("the earlier ones stay kept")] });
    expect(january()[0]).toMatchObject({ minDeciC: -50, maxDeciC: 30 });
    expect(house.database.$client.prepare("SELECT count(*) FROM weather_day").pluck().get()).toBe(3);
  });

  it("comes in from every encoding", () => {
    const text = "day,min_c,max_c,place\n2027-01-03,-4,1,Mélisse’s fleece\n";
    const utf16 = (isBig: boolean) =>
      Uint8Array.from(
        [...`\uFEFF${text}`].flatMap((letter) => {
          const [high, low] = [letter.charCodeAt(0) >> 8, letter.charCodeAt(0) & 255];
          return isBig ? [high, low] : [low, high];
        }),
      );
    const latin = Uint8Array.from([...text].map((letter) => (letter === "’" ? 0x92 : letter.charCodeAt(0))));
    for (const bytes of [text, `\uFEFF${text}`, utf16(true), utf16(false), latin]) {
      const house = gardenHouse();
      expect(take(house, "w.csv", bytes, { kind: "weather" })).toMatchObject({ added: 1 });
      expect(listWeather(house.database, day("2027-01-03"), day("2027-01-03"))).toMatchObject([
        { place: "Mélisse’s fleece" },
      ]);
    }
  });
});

describe("a list of varieties", () => {
  it("adds crops, varieties and claims, and changes a claim only where it says another", () => {
    const house = gardenHouse();
    const text = "Crop,Variety,Packet claim\nKale,Thornlea,Stands snow.\nkale,thornlea,\nKale,Greyfriar,\n";
    expect(take(house, "v.csv", text, { kind: "varieties" })).toMatchObject({
      rows: 3,
      added: 2,
      already: 1,
    });
    expect(take(house, "v.csv", text, { kind: "varieties" })).toMatchObject({ added: 0, already: 3 });
    const changed = take(house, "v.csv", "crop,variety,claim\nkale,Thornlea,Tender.\n", {
      kind: "varieties",
    });
    expect(changed).toMatchObject({ added: 1, said: ["The packet’s claim changes for Thornlea."] });
  });
});

describe("a phone's file of unsent facts", () => {
  it("comes in as if the phone had sent it, with an answer for each", () => {
    const { house, trial } = houseWithTrial();
    const [plot] = trial.plots;
    const facts = [
      someFact(plot.id),
      someFact(plot.id, { kind: "loss", cause: "slugs", amount: 1 }),
      someFact("nowhere"),
    ];
    const entries = facts.map((fact, sequence) => ({ id: fact.id, state: "waiting", sequence, fact }));
    const text = JSON.stringify(unsentFile(entries as never, house.now()));
    const unsent = (content: string, isWriting = true) =>
      importUnsent(house, fileOf("unsent.json", content), isWriting);
    expect(unsent(text, false)).toMatchObject({ state: "ready", rows: 3 });
    expect(unsent(text)).toMatchObject({
      state: "done",
      rows: 3,
      added: 2,
      already: 0,
      replies: [
        { what: "2 standing", by: "Ruth", answer: "recorded" },
        { what: "One plant gone to slugs", answer: "recorded" },
        { answer: "refused: plotId is nowhere; wanted: a plot of this garden" },
      ],
    });
    expect(unsent(text)).toMatchObject({ added: 0, already: 2 });
    expect(places(unsent("{}"))).toEqual([
      "unsent.json:1:1 | a file of another kind | a file of facts that a phone saved",
    ]);
  });
});

describe("an import that is stopped", () => {
  it("leaves nothing behind, while it is tried and while it is written", () => {
    const { house, trialId, trial } = houseWithTrial();
    const rows = Array.from({ length: 600 }, (_, row) => `2026-11-21,${trial.plots[0].code},harvest,${row}`);
    const file = fileOf("o.csv", ["seen_on,plot,kind,amount", ...rows].join("\n"));
    const columns = ["seen_on", "plot", "kind", "amount"].map((name, column) => [name, { column }]);
    const asked: Asked = {
      kind: "observations",
      trialId,
      mapping: Object.fromEntries(columns),
      dayOrder: null,
      skipBlank: false,
      trial: { question: "", crop: "", check: "" },
    };
    const before = keptRecord(house.database);
    for (const after of [1, 5]) {
      let asks = 0;
      const isStopped = () => {
        asks += 1;
        return asks > after;
      };
      expect(() => importTable(house, asked, file, { isWriting: true, steps: { isStopped } })).toThrow(
        ImportStopped,
      );
      expect(keptRecord(house.database)).toEqual(before);
    }
    expect(importTable(house, asked, file, { isWriting: true, steps: going })).toMatchObject({
      added: 600,
    });
  });
});

describe("files on their way in", () => {
  const post = async (query: string, body: string) => {
    const url = `http://127.0.0.1:3000/api/import?${query}`;
    const answer = await stage(new Request(url, { method: "POST", body }));
    return { status: answer.status, body: await answer.json() };
  };

  it("wait beside the garden's file under a name of ours, whatever theirs is", async () => {
    const house = gardenHouse();
    shareHouse(house);
    const first = await post("name=..%2F..%2Fplots.csv", "plot,variety\n");
    expect(first).toMatchObject({ status: 200, body: { bytes: 13 } });
    const { set } = first.body;
    expect(await post(`name=weather.csv&set=${set}`, "day,min_c\n")).toMatchObject({
      status: 200,
      body: { set },
    });
    const staged = stagedFiles(house, set);
    expect(staged.map(({ name }) => name)).toEqual(["plots.csv", "weather.csv"]);
    expect(staged.every(({ path }) => path.startsWith(join(house.dataFolder, "imports", set)))).toBe(true);
    expect((await post("name=x.csv&set=..%2F..", "x")).status).toBe(413);
    expect(stagedFiles(house, "../../etc")).toEqual([]);
    for (let count = 2; count < 20; count += 1) await post(`name=${count}.csv&set=${set}`, "a,b\n");
    expect(await post(`name=more.csv&set=${set}`, "a,b\n")).toMatchObject({
      status: 413,
      body: { faults: [{ found: "21 files", wanted: "at most 20 at once" }] },
    });
    dropStaged(house, set);
    expect(stagedFiles(house, set)).toEqual([]);
  });

  it("are looked at, and a mapping that was used is offered again for columns of the same names", async () => {
    const { house, trialId, trial } = houseWithTrial();
    shareHouse(house);
    const text = `Date,Plot,Gathered\n2026-11-21,${trial.plots[0].code},450\n`;
    const look = async () => {
      const { body } = await post("name=p.csv", text);
      const url = `http://127.0.0.1:3000/api/import/look?set=${body.set}&kind=observations`;
      return (await lookRoute(new Request(url)).json()).table;
    };
    expect(await look()).toMatchObject({
      columns: ["Date", "Plot", "Gathered"],
      rows: [["2026-11-21", trial.plots[0].code, "450"]],
      mapping: { seen_on: { column: 0 }, plot: { column: 1 } },
      isRemembered: false,
    });
    const mapping = {
      seen_on: { column: 0 },
      plot: { column: 1 },
      amount: { column: 2 },
      kind: { same: "harvest" },
    };
    expect(take(house, "p.csv", text, { kind: "observations", trialId, mapping })).toMatchObject({
      added: 1,
    });
    expect(await look()).toMatchObject({ mapping, isRemembered: true });
  });
});
