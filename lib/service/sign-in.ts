import { listPeople } from "@/db/queries/list-people";
import { type Begun, beginSession } from "./begin-session";
import type { House } from "./house";
import { isPassphrase } from "./passphrase";
import { sameName } from "./same-name";

/** Begins a session for a name with its passphrase; null when they do not belong together, whichever is wrong. */
export async function signIn(
  house: House,
  { name, passphrase, device }: { name: string; passphrase: string; device: string },
): Promise<Begun | null> {
  const person = listPeople(house.database).find((known) => sameName(known.name, name.trim()));
  const right = await isPassphrase(passphrase, person?.passphraseHash ?? null);
  if (!right || !person) return null;
  return beginSession(house, { personId: person.id, device, by: "passphrase" });
}
