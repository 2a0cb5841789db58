import { endSessions } from "@/db/queries/end-sessions";
import type { House } from "./house";

/** Ends a session: its phone must be paired or signed in again. What the phone holds is not touched. */
export function endSession(house: House, sessionId: string): void {
  endSessions(house.database, { sessionId }, house.now());
}
