import { inOneAct } from "@/db/open";
import { addPerson as addRow } from "@/db/queries/add-person";
import { listPeople } from "@/db/queries/list-people";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { personSchema } from "@/lib/words/person";
import type { House } from "./house";
import { readForm } from "./read-form";
import { sameName } from "./same-name";

/** Adds a person of the house. Two of one name could not be told apart in the record. */
export function addPerson(house: House, input: unknown): Outcome<{ personId: string }> {
  const form = readForm(personSchema, input);
  if (!form.ok) return form;
  const { name, role } = form.value;
  return inOneAct(house.database, () => {
    if (listPeople(house.database).some((known) => sameName(known.name, name)))
      return refusal([{ place: "name", found: name, wanted: "one that nobody here has yet" }]);
    const personId = house.newId();
    addRow(house.database, { id: personId, name, role, atHome: false, madeAt: house.now() });
    return success({ personId });
  });
}
