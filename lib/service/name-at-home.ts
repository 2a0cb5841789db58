import { inOneAct } from "@/db/open";
import { changePerson } from "@/db/queries/change-person";
import { listPeople } from "@/db/queries/list-people";
import type { House } from "./house";

/** Says whose name is filled in on the computer at home, where nobody signs in; null for nobody's. */
export function nameAtHome(house: House, personId: string | null): void {
  inOneAct(house.database, () => {
    const people = listPeople(house.database);
    for (const { id, atHome } of people) if (atHome) changePerson(house.database, id, { atHome: false });
    if (people.some(({ id }) => id === personId)) changePerson(house.database, personId!, { atHome: true });
  });
}
