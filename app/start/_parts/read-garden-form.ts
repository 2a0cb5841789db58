import { parseDegrees } from "@/lib/words/coordinate";
import type { Fault, Outcome } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";

/**
 * The garden form as the service takes it, with what could not be read. An unread figure is handed on as it was typed,
 * so that the service refuses it and names whatever else is wrong in the same answer.
 */
export function readGardenForm(values: Record<string, string>): { input: unknown; faults: Fault[] } {
  const faults: Fault[] = [];
  const read = (outcome: Outcome<number>, typed: string) => {
    if (outcome.ok) return outcome.value;
    faults.push(...outcome.faults);
    return typed;
  };
  const { name = "", timeZone = "", latitude = "", longitude = "", altitudeM = "" } = values;
  const height = { place: "altitudeM", minimum: -500, maximum: 6000, whole: true };
  const input = {
    name,
    timeZone: timeZone.trim(),
    latitude: read(parseDegrees(latitude, "latitude", "latitude"), latitude),
    longitude: read(parseDegrees(longitude, "longitude", "longitude"), longitude),
    altitudeM:
      altitudeM.trim() === "" ? null : read(parseNumber(altitudeM.replace(/\s*m$/i, ""), height), altitudeM),
  };
  return { input, faults };
}
