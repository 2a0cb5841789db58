import { changePerson } from "@/db/queries/change-person";
import { findPerson } from "@/db/queries/find-person";
import { type Outcome, refusal, success } from "@/lib/words/fault";
import { passphraseLength } from "@/lib/words/person";
import type { House } from "./house";
import { hashPassphrase } from "./passphrase";

/** Gives a person a passphrase for phones that are not paired, or another one. Only its hash is kept. */
export async function setPassphrase(
  house: House,
  { personId, passphrase }: { personId: string; passphrase: string },
): Promise<Outcome<null>> {
  const { least, most } = passphraseLength;
  const length = passphrase.normalize("NFKC").trim().length;
  if (length < least || length > most) {
    const wanted = `${least} to ${most} letters`;
    return refusal([{ place: "passphrase", found: length === 1 ? "1 letter" : `${length} letters`, wanted }]);
  }
  if (!findPerson(house.database, personId))
    return refusal([{ place: "person", found: personId, wanted: "somebody on the list" }]);
  changePerson(house.database, personId, { passphraseHash: await hashPassphrase(passphrase) });
  return success(null);
}
