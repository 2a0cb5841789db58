import { type Fault, type Outcome, refusal, success } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";
import type { GardenForm } from "./start-garden";

/** Reads the garden form as it was typed. What only `startGarden` can judge (the time zone, say) is left to it. */
export function readTypedGarden(typed: Record<string, string>): Outcome<GardenForm> {
  const faults: Fault[] = [];
  const number = (place: string, minimum: number, maximum: number, wanted: string, whole = false) => {
    const read = parseNumber(typed[place] ?? "", { place, minimum, maximum, whole, wanted });
    if (read.ok) return read.value;
    faults.push(...read.faults);
    return 0;
  };
  const latitude = number("latitude", -90, 90, "degrees from −90 to 90, such as 54.2");
  const longitude = number("longitude", -180, 180, "degrees from −180 to 180, such as −2.3");
  const isHeightGiven = (typed.altitudeM ?? "").trim() !== "";
  const altitudeM = isHeightGiven ? number("altitudeM", -500, 6000, "whole metres, or nothing", true) : null;
  if (faults.length > 0) return refusal(faults);
  return success({
    name: typed.name ?? "",
    timeZone: (typed.timeZone ?? "").trim(),
    latitude,
    longitude,
    altitudeM,
  });
}
