import type { FieldWords } from "@/app/_ui/field-fault";

const words: Record<string, FieldWords> = {
  name: { label: "What the garden is called", ask: "Enter what the garden is called" },
  latitude: { label: "Latitude", ask: "Enter the garden’s latitude, such as 54.2 N" },
  longitude: { label: "Longitude", ask: "Enter the garden’s longitude, such as 2.3 W" },
  altitudeM: { label: "Height above the sea" },
  timeZone: { label: "Time zone", ask: "Enter the garden’s time zone, such as Europe/London" },
};

export function gardenWords(place: string): FieldWords {
  return words[place] ?? { label: "This form" };
}
