import { harvestParts, observationKinds, observationUnits } from "@/lib/words/observation";
import { moment } from "./fields";
import type { ObservationRow } from "./read-observations";
import { type TableField, writeTable } from "./write-table";

/** The columns of `observations.csv`. */
export const observationFields: readonly TableField[] = [
  {
    name: "seen_on",
    type: "date",
    description: "The day at the garden on which it was seen",
    constraints: { required: true },
  },
  { name: "plot", type: "string", description: "The plot it is about", constraints: { required: true } },
  {
    name: "kind",
    type: "string",
    description: "What kind of fact it is",
    constraints: { required: true, enum: observationKinds },
  },
  { name: "cause", type: "string", description: "A loss's cause or a removal's reason" },
  {
    name: "trait",
    type: "string",
    description: "What a score or count is of; a count of bbch is a growth stage, 0 to 99",
    miappe: "traitName",
  },
  {
    name: "part",
    type: "string",
    description: "What was harvested",
    constraints: { enum: harvestParts },
  },
  {
    name: "amount",
    type: "number",
    description: "The figure; a harvest of 0 is nothing to pick, a blank one was not picked",
    constraints: { minimum: 0 },
  },
  {
    name: "unit",
    type: "string",
    description: "What the figure counts",
    constraints: { enum: observationUnits },
    miappe: "scaleName",
  },
  { name: "by", type: "string", description: "Who saw it" },
  { name: "note", type: "string", description: "What else was said" },
  { name: "id", type: "string", description: "The fact's own id", constraints: { unique: true } },
  { name: "replaces", type: "string", description: "The id of the fact that it corrects or withdraws" },
  {
    name: "set_out_on",
    type: "date",
    description: "The day on which the plants were set out, where that is not the planting",
  },
  moment("recorded_at", "When it was written down, in UTC"),
];

/** Writes `observations.csv`, which `readObservations` reads back the same. Within a day, rows fold in their order. */
export function writeObservations(rows: readonly Omit<ObservationRow, "line" | "notes">[]): string {
  return writeTable(
    observationFields,
    rows.map((row) => [
      row.seenOn,
      row.plot,
      row.kind,
      row.cause,
      row.trait,
      row.part,
      row.amount,
      row.unit,
      row.by,
      row.note,
      row.id,
      row.replaces,
      row.setOutOn,
      row.recordedAt,
    ]),
  );
}
