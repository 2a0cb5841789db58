import { addSession } from "@/db/queries/add-session";
import { instantOf } from "@/lib/words/instant";
import type { House } from "./house";
import { newToken, tokenHash } from "./secret-token";

/** A paired phone is one's own and stays signed in; a passphrase may have been typed on anybody's. */
const slidesDays = { pairing: 400, passphrase: 30 } as const;

export const dayMs = 86_400_000;

/** A session that has just begun; the token goes to the phone and is kept nowhere else. */
export interface Begun {
  token: string;
  maxAgeS: number;
}

/** Begins a session of a person on a device. */
export function beginSession(
  house: House,
  { personId, device, by }: { personId: string; device: string; by: "pairing" | "passphrase" },
): Begun {
  const token = newToken();
  const now = house.now();
  addSession(house.database, {
    id: house.newId(),
    personId,
    tokenHash: tokenHash(token),
    device,
    beganBy: by,
    slidesDays: slidesDays[by],
    madeAt: now,
    usedAt: now,
    endsAt: instantOf(Date.parse(now) + slidesDays[by] * dayMs),
  });
  return { token, maxAgeS: (slidesDays[by] * dayMs) / 1000 };
}
