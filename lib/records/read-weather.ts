import type { Day } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import { cellReader, type FileManner } from "./cell-reader";
import type { TableRow } from "./read-table";

/** One row of `weather.csv`: the coldest and the warmest of a day at one place, in tenths of a degree Celsius. */
export interface WeatherFileRow {
  line: number;
  day: Day;
  /** `outside`, or a cover's name. */
  place: string;
  minDeciC: number | null;
  maxDeciC: number | null;
}

const unit = /\s*°?\s*[cf]$/i;
const fahrenheit = /°\s*f$|(?<=[\d\s])f$/i;
const headingInFahrenheit = /°\s*f\b|\bfahrenheit\b|[([]f[)\]]/i;

/** A row whose temperatures stand there without their unit, and the units they had. */
function temperatures(row: TableRow): { bare: TableRow; isFahrenheit(column: string): boolean } {
  return {
    bare: {
      ...row,
      value: (column) => (column.endsWith("_c") ? row.value(column).replace(unit, "") : row.value(column)),
    },
    isFahrenheit: (column) => {
      const value = row.value(column);
      return fahrenheit.test(value) || (!unit.test(value) && headingInFahrenheit.test(row.place(column)));
    },
  };
}

/**
 * Reads one row of weather. A place left blank is outside. Temperatures are degrees Celsius, or Fahrenheit where the value
 * or the column's name says so.
 */
export function readWeather(row: TableRow, faults: Fault[], manner: FileManner): WeatherFileRow {
  const { bare, isFahrenheit } = temperatures(row);
  const own: Fault[] = [];
  const cell = cellReader(bare, own, manner);
  const day = cell.day("day");
  if (row.value("day") === "") cell.refuse("day", "a date such as 4 Mar 2027 or 2027-03-04");
  const degrees = (column: string): number | null => {
    const isF = isFahrenheit(column);
    const [minimum, maximum] = isF ? [-130, 194] : [-90, 90];
    const wanted = isF ? "a temperature from −130 to 194 °F" : "a temperature from −90 to 90 °C";
    const read = cell.number(column, { minimum, maximum, wanted });
    if (read === null) return null;
    return Math.round((isF ? ((read - 32) * 5) / 9 : read) * 10);
  };
  const minDeciC = degrees("min_c");
  const maxDeciC = degrees("max_c");
  const place = cell.text("place", 80)?.trim() ?? "outside";
  if (row.value("min_c") === "" && row.value("max_c") === "")
    cell.refuse("min_c", "a lowest or a highest temperature");
  if (minDeciC !== null && maxDeciC !== null && maxDeciC < minDeciC)
    cell.refuse("max_c", "no colder than the lowest of the day");
  faults.push(...own);
  return {
    line: row.line,
    day: day ?? ("" as Day),
    place: /^out(side|doors)?$/i.test(place) ? "outside" : place,
    minDeciC: minDeciC === null ? null : minDeciC + 0,
    maxDeciC: maxDeciC === null ? null : maxDeciC + 0,
  };
}
