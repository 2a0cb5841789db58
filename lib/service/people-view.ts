import { findGarden } from "@/db/queries/find-garden";
import { listPeople } from "@/db/queries/list-people";
import { listSessions } from "@/db/queries/list-sessions";
import { type Day, dayAtGarden } from "@/lib/words/day";
import type { PersonRole } from "@/lib/words/person";
import type { House, PhoneDoor } from "./house";

export interface PersonLine {
  id: string;
  name: string;
  role: PersonRole;
  hasPassphrase: boolean;
  atHome: boolean;
  /** Phones that are signed in, the one used last first. */
  sessions: { id: string; device: string; by: "pairing" | "passphrase"; madeOn: Day; usedOn: Day }[];
}

/** The people of the house with their phones, and where phones find it. */
export function peopleView(house: House): { people: PersonLine[]; door: PhoneDoor | null } {
  const { database } = house;
  const timeZone = findGarden(database)?.timeZone ?? "UTC";
  const sessions = listSessions(database, house.now());
  const people = listPeople(database).map(({ id, name, role, atHome, passphraseHash }) => ({
    id,
    name,
    role,
    atHome,
    hasPassphrase: passphraseHash !== null,
    sessions: sessions
      .filter(({ personId }) => personId === id)
      .map((session) => ({
        id: session.id,
        device: session.device,
        by: session.beganBy,
        madeOn: dayAtGarden(session.madeAt, timeZone),
        usedOn: dayAtGarden(session.usedAt, timeZone),
      })),
  }));
  return { people, door: house.phoneDoor ?? null };
}
