import Ajv from "ajv";
import addFormats from "ajv-formats";
import Papa from "papaparse";
import profile from "./profile.json";

interface Field {
  name: string;
  type: string;
  format?: string;
  constraints?: {
    required?: boolean;
    unique?: boolean;
    minimum?: number;
    maximum?: number;
    enum?: string[];
  };
}
interface Resource {
  name: string;
  path: string;
  schema?: {
    fields: Field[];
    primaryKey?: string[];
    foreignKeys?: { fields: string[]; reference: { resource?: string; fields: string[] } }[];
  };
}

const ajv = new Ajv({ allErrors: true, strict: false });
addFormats(ajv);
const follows = ajv.compile(profile);

const looksLike: Record<string, RegExp> = {
  integer: /^[+-]?\d+$/,
  number: /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/,
  boolean: /^(true|True|TRUE|1|false|False|FALSE|0)$/,
  date: /^\d{4}-\d{2}-\d{2}$/,
  datetime: /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/,
};
const datetimePattern = "%Y-%m-%dT%H:%M:%S.%fZ";

function isOfType({ type, format }: Field, value: string): boolean {
  if (type === "string") return true;
  if (type === "object" || type === "array") {
    const parsed: unknown = JSON.parse(value);
    return Array.isArray(parsed) === (type === "array") && typeof parsed === "object" && parsed !== null;
  }
  if (!looksLike[type]?.test(value) || (type === "datetime" && format !== datetimePattern)) return false;
  if (!type.startsWith("date")) return true;
  const day = new Date(`${value.slice(0, 10)}T00:00:00Z`);
  return !Number.isNaN(day.getTime()) && day.toISOString().slice(0, 10) === value.slice(0, 10);
}

function cellFaults(field: Field, value: string): string[] {
  const { required, minimum, maximum, enum: listed } = field.constraints ?? {};
  if (value === "") return required ? ["is blank"] : [];
  if (!isOfType(field, value)) return [`is no ${field.type}: ${value}`];
  return [
    ...(minimum !== undefined && Number(value) < minimum ? [`is below ${minimum}: ${value}`] : []),
    ...(maximum !== undefined && Number(value) > maximum ? [`is above ${maximum}: ${value}`] : []),
    ...(listed && !listed.includes(value) ? [`is not in its list: ${value}`] : []),
  ];
}

const keyOf = (row: Record<string, string>, fields: string[]) =>
  JSON.stringify(fields.map((name) => row[name]));

/**
 * What is wrong with an unpacked Data Package, in lines to read: its description against the standard's own profile, and
 * every cell of every table against that table's schema: types, constraints, primary and foreign keys. It shares no code
 * with what writes the package.
 */
export function faultsIn(files: Record<string, string>): string[] {
  const described: { resources: Resource[] } = JSON.parse(files["datapackage.json"]);
  const faults = follows(described)
    ? []
    : (follows.errors ?? []).map((error) => `datapackage.json${error.instancePath} ${error.message}`);
  const rowsOf = new Map<string, Record<string, string>[]>();
  for (const { name, path, schema } of described.resources) {
    if (!schema) continue;
    const text = files[path];
    if (text === undefined) faults.push(`${path} is not there`);
    const [head, ...body] = Papa.parse<string[]>((text ?? "").replace(/\r\n$/, ""), { delimiter: "," }).data;
    const names = schema.fields.map((field) => field.name);
    if (JSON.stringify(head) !== JSON.stringify(names)) faults.push(`${path} has the columns ${head}`);
    body.forEach((row, index) => {
      if (row.length !== names.length) faults.push(`${path}:${index + 2} has ${row.length} values`);
    });
    rowsOf.set(
      name,
      body.map((row) => Object.fromEntries(names.map((column, index) => [column, row[index] ?? ""]))),
    );
  }
  for (const { name, path, schema } of described.resources) {
    if (!schema) continue;
    const rows = rowsOf.get(name) ?? [];
    for (const field of schema.fields) {
      rows.forEach((row, index) => {
        for (const fault of cellFaults(field, row[field.name]))
          faults.push(`${path}:${index + 2}:${field.name} ${fault}`);
      });
    }
    const keys = [
      ...(schema.primaryKey ? [schema.primaryKey] : []),
      ...schema.fields.filter((field) => field.constraints?.unique).map((field) => [field.name]),
    ];
    for (const key of keys)
      if (new Set(rows.map((row) => keyOf(row, key))).size < rows.length)
        faults.push(`${path} repeats ${key}`);
    for (const { fields, reference } of schema.foreignKeys ?? []) {
      const known = new Set(
        (rowsOf.get(reference.resource ?? name) ?? []).map((row) => keyOf(row, reference.fields)),
      );
      rows.forEach((row, index) => {
        if (fields.every((column) => row[column] !== "") && !known.has(keyOf(row, fields)))
          faults.push(`${path}:${index + 2}:${fields} names nothing in ${reference.resource ?? name}`);
      });
    }
  }
  return faults;
}
