import type { Instant } from "@/lib/words/instant";
import type { TableField } from "./write-table";

/** Licences that an export may carry: whoever grew the trial chooses, or says nothing. */
export const exportLicences = [
  {
    name: "CC0-1.0",
    path: "https://creativecommons.org/publicdomain/zero/1.0/",
    title: "CC0 1.0: anybody may use it, without conditions",
  },
  {
    name: "CC-BY-4.0",
    path: "https://creativecommons.org/licenses/by/4.0/",
    title: "CC BY 4.0: anybody may use it who names where it comes from",
  },
  {
    name: "CC-BY-SA-4.0",
    path: "https://creativecommons.org/licenses/by-sa/4.0/",
    title: "CC BY-SA 4.0: the same, and passes it on under the same terms",
  },
] as const;
export type ExportLicence = (typeof exportLicences)[number]["name"];

export interface PackageTable {
  /** `plots` for `plots.csv`. */
  name: string;
  title: string;
  fields: readonly TableField[];
  primaryKey?: readonly string[];
  /** A column and the table and column that it names; the own table where none is said. */
  refers: readonly { field: string; table?: string; to: string }[];
}

export interface PackageDescription {
  id: string;
  name: string;
  title: string;
  description: string;
  made: Instant;
  /** Null where the grower has not said: the package then grants nothing. */
  licence: ExportLicence | null;
  /** Who recorded, by name. */
  contributors: string[];
  /** What else is to be said of the whole, under names of its own. */
  more?: Record<string, string>;
  tables: readonly PackageTable[];
  /** Files that are no tables: pictures. */
  others?: readonly { name: string; path: string; mediaType: string; bytes: number }[];
}

function resource({ name, title, fields, primaryKey, refers }: PackageTable): object {
  return {
    name,
    path: `${name}.csv`,
    title,
    type: "table",
    format: "csv",
    mediatype: "text/csv",
    encoding: "utf-8",
    schema: {
      $schema: "https://datapackage.org/profiles/2.0/tableschema.json",
      fields,
      missingValues: [""],
      ...(primaryKey && { primaryKey }),
      ...(refers.length > 0 && {
        foreignKeys: refers.map(({ field, table, to }) => ({
          fields: [field],
          reference: { ...(table && { resource: table }), fields: [to] },
        })),
      }),
    },
  };
}

/**
 * Writes `datapackage.json`: what the tables of an export hold and how they hang together. A column that MIAPPE 1.2 knows
 * carries the checklist's name for it as `miappe`, a property of our own, as the standard allows.
 *
 * Source: Data Package standard 2.0, datapackage.org/standard/data-package and /table-schema; MIAPPE 1.2, checklist of
 * the MIAPPE consortium. Checked: tests/database/data-package.test.ts.
 */
export function dataPackage(description: PackageDescription): string {
  const { id, name, title, made, licence, contributors, more, tables, others = [] } = description;
  const granted = exportLicences.find((one) => one.name === licence);
  const descriptor = {
    $schema: "https://datapackage.org/profiles/2.0/datapackage.json",
    name,
    id,
    title,
    description: description.description,
    created: made,
    ...(granted && { licenses: [granted] }),
    ...(contributors.length > 0 && {
      contributors: contributors.map((person) => ({ title: person, roles: ["DataCollector"] })),
    }),
    ...more,
    miappeVersion: "1.2",
    resources: [
      ...tables.map(resource),
      ...others.map(({ mediaType, ...file }) => ({ ...file, mediatype: mediaType })),
    ],
  };
  return `${JSON.stringify(descriptor, null, 2)}\n`;
}
