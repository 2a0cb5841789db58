import { listCohorts } from "@/db/queries/list-cohorts";
import { listStands } from "@/db/queries/list-stands";
import type { StandRow } from "@/db/queries/put-stand";
import type { House } from "./house";
import { refoldCohort } from "./refold-cohort";

export interface HouseCheck {
  cohorts: number;
  /** Stands that are not what the facts say: kept is null where the row is missing. */
  wrong: { cohortId: string; kept: StandRow | null; told: StandRow }[];
}

function same(a: StandRow, b: StandRow): boolean {
  return (Object.keys(a) as (keyof StandRow)[]).every((key) => a[key] === b[key]);
}

/** Recomputes every derived stand from the facts and tells which kept row differs; nothing is written. */
export function checkHouse(house: House): HouseCheck {
  const { database } = house;
  const kept = new Map(listStands(database).map((stand) => [stand.cohortId, stand]));
  const cohorts = listCohorts(database);
  const wrong = cohorts.flatMap(({ id }) => {
    const told = refoldCohort(database, id);
    const row = kept.get(id) ?? null;
    return row !== null && same(row, told) ? [] : [{ cohortId: id, kept: row, told }];
  });
  return { cohorts: cohorts.length, wrong };
}
