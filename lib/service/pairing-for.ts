import { findPairing } from "@/db/queries/find-pairing";
import type { House } from "./house";
import { tokenHash } from "./secret-token";

/** The name of whom a pairing token is for, while it can still be used; looking uses nothing up. */
export function pairingFor(house: House, token: string): string | null {
  return findPairing(house.database, tokenHash(token), house.now())?.name ?? null;
}
