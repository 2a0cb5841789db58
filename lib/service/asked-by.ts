import { findPerson } from "@/db/queries/find-person";
import { listPeople } from "@/db/queries/list-people";
import type { PersonRole } from "@/lib/words/person";
import type { House } from "./house";

/** Set by the gate on every request, after whatever a caller sent under these names was taken off. */
export const askedHeaders = {
  listener: "x-proving-bed-listener",
  person: "x-proving-bed-person",
  session: "x-proving-bed-session",
} as const;

/** Who asks, and by which door. */
export interface Asked {
  atHome: boolean;
  sessionId: string | null;
  person: { id: string; name: string; role: PersonRole } | null;
}

/** Who asks, by what the gate wrote on the request: whoever is signed in, or at home the person named there, if any. */
export function askedBy(house: House, headers: Pick<Headers, "get">): Asked {
  const atHome = headers.get(askedHeaders.listener) === "home";
  const sessionId = headers.get(askedHeaders.session);
  const id = headers.get(askedHeaders.person);
  const person = atHome
    ? listPeople(house.database).find((known) => known.atHome)
    : id === null
      ? null
      : findPerson(house.database, id);
  return {
    atHome,
    sessionId,
    person: person ? { id: person.id, name: person.name, role: person.role } : null,
  };
}
