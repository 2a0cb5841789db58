import { inOneAct } from "@/db/open";
import { changePerson } from "@/db/queries/change-person";
import { endSessions } from "@/db/queries/end-sessions";
import { findPerson } from "@/db/queries/find-person";
import type { House } from "./house";

/** A person leaves: every session ends. What they recorded stays theirs, by name. */
export function partWithPerson(house: House, personId: string): void {
  inOneAct(house.database, () => {
    if (!findPerson(house.database, personId)) return;
    endSessions(house.database, { personId }, house.now());
    changePerson(house.database, personId, { atHome: false, leftAt: house.now() });
  });
}
