import { addPairing } from "@/db/queries/add-pairing";
import { findPerson } from "@/db/queries/find-person";
import { type Instant, instantOf } from "@/lib/words/instant";
import type { House } from "./house";
import { newToken, tokenHash } from "./secret-token";

const withinMs = 10 * 60_000;

/** Makes the one-time token by which a phone is paired for a person within ten minutes; null for nobody here. */
export function startPairing(house: House, personId: string): { token: string; endsAt: Instant } | null {
  if (!findPerson(house.database, personId)) return null;
  const token = newToken();
  const madeAt = house.now();
  const endsAt = instantOf(Date.parse(madeAt) + withinMs);
  addPairing(house.database, { tokenHash: tokenHash(token), personId, madeAt, endsAt });
  return { token, endsAt };
}
