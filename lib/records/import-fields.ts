import { harvestParts, observationKinds } from "@/lib/words/observation";

/** Tables that come in with their columns mapped by a person. */
export const mappedKinds = ["observations", "weather", "varieties"] as const;
export type MappedKind = (typeof mappedKinds)[number];

/** A field that a column of somebody's file may hold. */
export interface ImportField {
  name: string;
  /** As it is asked for on the page. */
  words: string;
  isRequired: boolean;
  /** Names of columns that are taken for it, in small letters. */
  takes: readonly string[];
  /** Where the same may hold for every row: the values to choose from, or null where it is typed. */
  same?: readonly { value: string; words: string }[] | null;
}

const kindLabels: Partial<Record<(typeof observationKinds)[number], string>> = {
  stand: "a count of standing plants",
  loss: "a loss",
  removed: "plants taken out",
  harvest: "a harvest",
  score: "a score",
  count: "a count of a trait",
  note: "a note",
};

export const importFields: Record<MappedKind, readonly ImportField[]> = {
  observations: [
    {
      name: "seen_on",
      words: "Date",
      isRequired: true,
      takes: ["seen on", "date", "day", "seen", "when", "datum"],
    },
    {
      name: "plot",
      words: "Plot",
      isRequired: true,
      takes: ["plot", "plot code", "plot no", "stake", "code", "label"],
    },
    {
      name: "kind",
      words: "What each row is",
      isRequired: true,
      takes: ["kind", "what", "type", "event"],
      same: observationKinds.flatMap((value) => {
        const words = kindLabels[value];
        return words ? [{ value, words }] : [];
      }),
    },
    {
      name: "amount",
      words: "The figure",
      isRequired: false,
      takes: [
        "amount",
        "weight",
        "figure",
        "count",
        "number",
        "plants",
        "standing",
        "lost",
        "grams",
        "yield",
        "harvest",
        "value",
        "quantity",
      ],
    },
    {
      name: "unit",
      words: "Its unit",
      isRequired: false,
      takes: ["unit", "units"],
      same: [
        { value: "g", words: "grams" },
        { value: "kg", words: "kilograms" },
      ],
    },
    { name: "cause", words: "Cause or reason", isRequired: false, takes: ["cause", "reason", "lost to"] },
    {
      name: "trait",
      words: "What a score or count is of",
      isRequired: false,
      takes: ["trait", "quality"],
      same: null,
    },
    {
      name: "part",
      words: "Part harvested",
      isRequired: false,
      takes: ["part"],
      same: harvestParts.map((value) => ({ value, words: value })),
    },
    {
      name: "by",
      words: "Who saw it",
      isRequired: false,
      takes: ["by", "who", "name", "person"],
      same: null,
    },
    {
      name: "note",
      words: "Note",
      isRequired: false,
      takes: ["note", "notes", "remarks", "remark", "comment", "comments"],
    },
    {
      name: "set_out_on",
      words: "When those plants were set out",
      isRequired: false,
      takes: ["set out on", "set out"],
    },
    {
      name: "recorded_at",
      words: "When it was written down",
      isRequired: false,
      takes: ["recorded at"],
    },
    { name: "id", words: "The row’s own id", isRequired: false, takes: ["id", "uuid"] },
    { name: "replaces", words: "Id of the row it corrects", isRequired: false, takes: ["replaces"] },
  ],
  weather: [
    { name: "day", words: "Date", isRequired: true, takes: ["day", "date", "when", "datum", "time"] },
    {
      name: "min_c",
      words: "Lowest temperature",
      isRequired: false,
      takes: ["min c", "min", "lowest", "low", "minimum", "night", "tmin", "min temp", "t min", "coldest"],
    },
    {
      name: "max_c",
      words: "Highest temperature",
      isRequired: false,
      takes: ["max c", "max", "highest", "high", "maximum", "tmax", "max temp", "t max", "warmest"],
    },
    {
      name: "place",
      words: "Where",
      isRequired: false,
      takes: ["place", "where", "location", "cover", "sensor"],
      same: null,
    },
  ],
  varieties: [
    { name: "crop", words: "Crop", isRequired: true, takes: ["crop", "vegetable", "kind"], same: null },
    {
      name: "variety",
      words: "Variety",
      isRequired: true,
      takes: ["variety", "name", "cultivar", "sort"],
    },
    {
      name: "packet_claim",
      words: "What the packet claims",
      isRequired: false,
      takes: ["packet claim", "claim", "packet", "description", "notes", "note"],
    },
  ],
};
