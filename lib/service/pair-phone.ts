import { inOneAct } from "@/db/open";
import { findPairing } from "@/db/queries/find-pairing";
import { markPairingUsed } from "@/db/queries/mark-pairing-used";
import type { PersonRole } from "@/lib/words/person";
import { type Begun, beginSession } from "./begin-session";
import type { House } from "./house";
import { tokenHash } from "./secret-token";

/** Pairs a phone: uses the token up and begins the phone's session; null when it was used before or has run out. */
export function pairPhone(
  house: House,
  { token, device }: { token: string; device: string },
): (Begun & { role: PersonRole }) | null {
  return inOneAct(house.database, () => {
    const hash = tokenHash(token);
    const person = findPairing(house.database, hash, house.now());
    if (!person) return null;
    markPairingUsed(house.database, hash, house.now());
    return { ...beginSession(house, { personId: person.id, device, by: "pairing" }), role: person.role };
  });
}
