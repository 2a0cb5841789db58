import { findSession } from "@/db/queries/find-session";
import { touchSession } from "@/db/queries/touch-session";
import { instantOf } from "@/lib/words/instant";
import type { PersonRole } from "@/lib/words/person";
import { dayMs } from "./begin-session";
import type { House } from "./house";
import { tokenHash } from "./secret-token";

/** A session that runs. */
export interface RunningSession {
  sessionId: string;
  personId: string;
  role: PersonRole;
  /** How long the phone may keep its token from now, where the session has just slid on; null where it has not. */
  slidS: number | null;
}

/** The running session of a token, or null. It slides on with its first use on another day. */
export function sessionOf(house: House, token: string): RunningSession | null {
  const now = house.now();
  const found = findSession(house.database, tokenHash(token), now);
  if (!found) return null;
  const { session, person } = found;
  const running = { sessionId: session.id, personId: person.id, role: person.role };
  if (Date.parse(now) - Date.parse(session.usedAt) < dayMs) return { ...running, slidS: null };
  const slidesMs = session.slidesDays * dayMs;
  touchSession(house.database, session.id, { usedAt: now, endsAt: instantOf(Date.parse(now) + slidesMs) });
  return { ...running, slidS: slidesMs / 1000 };
}
