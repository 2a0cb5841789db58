import type { TableField } from "./write-table";

type More = Pick<TableField, "miappe"> & TableField["constraints"];

function field(type: TableField["type"], format?: string) {
  return (name: string, description: string, { miappe, ...constraints }: More = {}): TableField => ({
    name,
    type,
    ...(format && { format }),
    description,
    ...(Object.keys(constraints).length > 0 && { constraints }),
    ...(miappe && { miappe }),
  });
}

/** Columns of each kind: a name, what it says, and what holds of its values. */
export const words = field("string");
export const whole = field("integer");
export const figure = field("number");
export const yesOrNo = field("boolean");
export const day = field("date");
export const list = field("array");
export const thing = field("object");
/** An instant with its thousandths, said as a pattern since readers of the standard's first version take none else. */
export const moment = field("datetime", "%Y-%m-%dT%H:%M:%S.%fZ");

/** A value that every row has, and no two rows have the same. */
export const key = { required: true, unique: true } as const;
/** A value that every row has. */
export const needed = { required: true } as const;
