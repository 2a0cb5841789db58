import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { guessMapping, mappingMisfits } from "@/lib/records/column-mapping";
import { decodeChunks, tellEncoding } from "@/lib/records/encoding";
import { mayBeThousands, plainFigure } from "@/lib/records/figure";
import { bothReadings, parseFileDay, tellDayOrder } from "@/lib/records/file-day";
import { importFields } from "@/lib/records/import-fields";
import { openTable } from "@/lib/records/open-table";
import { readZip } from "@/lib/records/read-zip";
import { splitRows } from "@/lib/records/split-rows";

function file(text: string | Uint8Array, piece = 7) {
  const bytes = typeof text === "string" ? strToU8(text) : text;
  return {
    name: "f.csv",
    *chunks() {
      for (let at = 0; at < bytes.length; at += piece) yield bytes.subarray(at, at + piece);
    },
  };
}

function opened(text: string | Uint8Array) {
  const table = openTable(file(text));
  if (!table.ok) throw new Error(JSON.stringify(table.faults));
  return table.value;
}

describe("a date as a person's file has it", () => {
  const read = (text: string, order: "day first" | "month first" | null = null) => {
    const day = parseFileDay(text, "f.csv:2:Date", order);
    return day.ok ? day.value : day.faults[0].wanted;
  };

  it.each([
    ["2027-03-04", "2027-03-04"],
    ["2027-03-04 08:10", "2027-03-04"],
    ["2027-03-04T08:10:00Z", "2027-03-04"],
    ["2027/3/4", "2027-03-04"],
    ["4 Mar 2027", "2027-03-04"],
    ["4-Mar-27", "2027-03-04"],
    ["4. March 2027", "2027-03-04"],
    ["Mar 4, 2027", "2027-03-04"],
    ["Sept 4th, 2027", "2027-09-04"],
    ["Thu 4 Mar 2027", "2027-03-04"],
    ["25/03/27", "2027-03-25"],
    ["4/4/2027", "2027-04-04"],
  ])("%s is %s, whatever the rest of the file has", (text, day) => {
    expect(read(text)).toBe(day);
  });

  it("of numbers only follows its file, and without one is refused where it could be two days", () => {
    expect(read("03/04/2027", "day first")).toBe("2027-04-03");
    expect(read("03.04.27", "month first")).toBe("2027-03-04");
    expect(read("03/04/2027")).toBe("a date such as 4 Mar 2027 or 2027-03-04");
    expect(read("25/03/2027", "month first")).toContain("with the month first, as in the rest of the file");
    expect(read("31/02/2027", "day first")).toContain("with the day first");
    expect(read("46085")).toContain("a date such as");
  });

  it("tells which of day and month comes first in its file, where only one can", () => {
    expect(
      ["25/03/2027", "03/25/2027", "03/04/2027", "4/4/2027", "4 Mar 2027", "x"].map(tellDayOrder),
    ).toEqual(["day first", "month first", "either", null, null, null]);
    expect(bothReadings("03/04/2027")).toEqual({ "day first": "2027-04-03", "month first": "2027-03-04" });
  });
});

it("a figure is made plain where the file leaves no doubt, and left alone where it does", () => {
  expect(plainFigure("1.234,5", false)).toBe("1234.5");
  expect(plainFigure("1,234.5 kg", false)).toBe("1234.5 kg");
  expect(plainFigure("1,250 kg", true)).toBe("1.250 kg");
  expect(plainFigure("1,250", false)).toBe("1,250");
  expect(plainFigure("−4,2", true)).toBe("−4.2");
  expect(mayBeThousands("1.200", true)).toBe(true);
  expect(mayBeThousands("1.200", false)).toBe(false);
  expect(mayBeThousands("1.25", true)).toBe(false);
});

describe("a file's letters", () => {
  const latin = (text: string) => Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  it("are told by mark, by zeros and by whether they hold as UTF-8", () => {
    const told = (bytes: Uint8Array) => tellEncoding(file(bytes, 10_000).chunks());
    expect(told(strToU8("plain"))).toBe("utf-8");
    expect(told(strToU8("\uFEFFé"))).toBe("utf-8");
    expect(told(strToU8("café, 💥"))).toBe("utf-8");
    expect(told(latin("caf\xe9"))).toBe("windows-1252");
    expect(told(Uint8Array.from([0xff, 0xfe, 97, 0]))).toBe("utf-16le");
    expect(told(Uint8Array.from([97, 0, 98, 0, 99, 0, 100, 0]))).toBe("utf-16le");
    expect(told(Uint8Array.from([0, 97, 0, 98, 0, 99, 0, 100]))).toBe("utf-16be");
    expect(told(zipSync({ a: strToU8("a") }))).toBe("binary");
  });

  it("stay UTF-8 when some bytes are spoilt, so that their cells are found at fault", () => {
    const spoilt = Uint8Array.from([...strToU8("é,é,é,"), 0xff, ...strToU8("\n")]);
    expect(tellEncoding([spoilt])).toBe("utf-8");
    expect([...decodeChunks([spoilt], "utf-8")].join("")).toContain("\uFFFD");
  });

  it("come out the same wherever the file is cut into pieces", () => {
    const text = "a,é\n“x”,💥\n";
    for (const piece of [1, 2, 3, 5])
      expect([...decodeChunks(file(text, piece).chunks(), "utf-8")].join("")).toBe(text);
  });
});

describe("a table", () => {
  it.each([
    ["commas", "a,b\n1,2\n", ","],
    ["semicolons, though its decimals have commas", "day;min;max\n3.4.27;-1,5;4,2\n4.4.27;-0,5;3,9\n", ";"],
    ["tabs, though its notes have commas", "a\tb\nwet, cold\t2\nwet, mild\t3\n", "\t"],
    ["what its first line says", "sep=|\na|b\n1|2\n", "|"],
  ])("is separated by %s", (_, text, separator) => {
    expect(opened(text).separator).toBe(separator);
  });

  it("begins below its titles, and keeps the lines of its rows", () => {
    const table = opened(
      'Old picks;;\r\n\r\nDate;"Plot\r\nname";Weight;\r\n1 Mar 2027;A1;"two\nlines"\r\n;;\r\n2 Mar 2027;A2;3\r\n',
    );
    expect(table.columns).toEqual(["Date", "Plot\r\nname", "Weight"]);
    expect([...table.rows()].map(({ line, values }) => [line, values[2].trim()])).toEqual([
      [5, "two\nlines"],
      [8, "3"],
    ]);
  });

  it("is split the same in one piece and in many, with a quotation mark left open told", () => {
    const text = `${Array.from({ length: 9_000 }, (_, row) => `${row},"x ""y""\n${row}",z`).join("\r\n")}\r\n1,"open\n2,3\n`;
    const whole = [...splitRows([text], ",")];
    const pieces = text.match(/[\s\S]{1,5000}/g) ?? [];
    expect([...splitRows(pieces, ",")]).toEqual(whole);
    expect(whole).toHaveLength(9_001);
    expect(whole[8_999]).toEqual({ line: 17_999, values: ["8999", 'x "y"\n8999', "z\r"], isBroken: false });
    expect(whole[9_000].isBroken).toBe(true);
  });

  it("is refused as what it is", () => {
    const found = (content: string | Uint8Array) => {
      const table = openTable(file(content));
      return table.ok ? "read" : table.faults[0].found;
    };
    expect(found("")).toBe("nothing");
    expect(found("only words\nand more\n")).toBe("no two columns");
    expect(found(zipSync({ a: strToU8("a") }))).toBe("a file that is not plain text");
    expect(found('"a,b\n1,2\n')).toBe("no two columns");
  });
});

describe("the columns of a table", () => {
  it("are guessed from their names, each once", () => {
    const guess = guessMapping(["Min. (°C)", "Max temp", "Date", "Remarks"], importFields.weather);
    expect(guess).toEqual({ day: { column: 2 }, min_c: { column: 0 }, max_c: { column: 1 } });
  });

  it("are refused where one is missing, taken twice or not there", () => {
    const misfits = (mapping: object) =>
      mappingMisfits(mapping as never, ["Date", "Low"], importFields.weather).map(({ place }) => place);
    expect(misfits({})).toEqual(["day"]);
    expect(misfits({ day: { column: 0 }, min_c: { column: 0 } })).toEqual(["min_c"]);
    expect(misfits({ day: { column: 7 } })).toEqual(["day"]);
    expect(misfits({ day: { same: "2027-01-01" } })).toEqual(["day"]);
    expect(misfits({ day: { column: 0 }, place: { same: "outside" } })).toEqual([]);
  });
});

describe("a zip", () => {
  const read = (bytes: Uint8Array) => {
    const zip = readZip(bytes, "z.zip", () => true);
    return zip.ok ? [...zip.value.keys()] : zip.faults[0].found;
  };
  const some = strToU8("plot,variety\n");

  it("is unpacked but for what its system put in", () => {
    expect(read(zipSync({ "t/plots.csv": some, "__MACOSX/x": some, "t/.DS_Store": some }))).toEqual([
      "t/plots.csv",
    ]);
  });

  it("ends as soon as more comes out of it than a trial can have", () => {
    expect(read(zipSync({ "plots.csv": new Uint8Array(140 * 1024 * 1024) }))).toBe("more than it says");
  });

  it("is refused when a name leads out of it, or it is cut off", () => {
    expect(read(zipSync({ "a/../../plots.csv": some }))).toContain("a/../../plots.csv");
    expect(read(zipSync({ "..\\plots.csv": some }))).toContain("..\\plots.csv");
    expect(read(zipSync({ "plots.csv": strToU8("x".repeat(5_000)) }).subarray(0, 50))).toBe(
      "a zip that is damaged",
    );
  });
});
