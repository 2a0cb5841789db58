import type { House } from "@/lib/service/house";
import { importFiles } from "@/lib/service/import-files";
import { randomStream } from "@/lib/statistics/random-stream";
import { addDays, type Day, daysBetween } from "@/lib/words/day";

/** Invented, as everything of Hazel Clough: what a cold inland valley's nights may be like. */
const seed = 20_251_121;
const from = "2025-09-01" as Day;
const until = "2026-11-22" as Day;
/** Days after the first of September in which the hard cold came, as in the simulation of the losses. */
const hardSpell: [number, number] = [124, 160];

/** The night's coldest outside and the day's warmest, day by day, as a thermometer's file has them. */
function weatherFile(): string {
  const stream = randomStream(seed);
  let stray = 0;
  const rows: string[] = [];
  for (let day = from; day <= until; day = addDays(day, 1)) {
    const along = daysBetween(from, day);
    stray = 0.7 * stray + 2.2 * (stream.uniform() + stream.uniform() + stream.uniform() - 1.5);
    const season = 4.5 + 5.5 * Math.cos((2 * Math.PI * (along + 35)) / 365.25);
    const isHard = along % 365 >= hardSpell[0] && along % 365 <= hardSpell[1];
    const coldest = season + stray - (isHard ? 3.5 : 0);
    const warmest = coldest + 4.5 + 3.5 * stream.uniform();
    rows.push(`${day},${coldest.toFixed(1)},${warmest.toFixed(1)},outside`);
  }
  return ["day,min_c,max_c,place", ...rows, ""].join("\n");
}

/** Writes two winters' weather down as anybody would: from a file. */
export function loadWinterWeather(house: House): void {
  const answer = importFiles(
    house,
    {
      kind: "weather",
      trialId: null,
      mapping: { day: { column: 0 }, min_c: { column: 1 }, max_c: { column: 2 }, place: { column: 3 } },
      dayOrder: null,
      skipBlank: true,
      trial: { question: "", crop: "", check: "" },
    },
    [{ name: "hazel-clough-weather.csv", chunks: () => [new TextEncoder().encode(weatherFile())] }],
    { isWriting: true, steps: { isStopped: () => false } },
  );
  if (answer.state !== "done")
    throw new Error(`the invented weather was not taken in: ${JSON.stringify(answer)}`);
}
