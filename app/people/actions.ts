"use server";

import { revalidatePath } from "next/cache";
import { type FieldWords, type FormAnswer, fieldFaults, typedValues } from "@/app/_ui/field-fault";
import { addPerson } from "@/lib/service/add-person";
import { endSession } from "@/lib/service/end-session";
import { openHouse } from "@/lib/service/house";
import { nameAtHome } from "@/lib/service/name-at-home";
import { partWithPerson } from "@/lib/service/part-with-person";
import { setPassphrase } from "@/lib/service/set-passphrase";
import { startPairing } from "@/lib/service/start-pairing";
import { type QrCode, qrCode } from "./qr-code";

// The gate lets nobody reach these from a phone: they are sent to /people, which is for the computer at home.

const labels: Record<string, FieldWords> = {
  name: { label: "Name", ask: "Enter a name" },
  role: { label: "What they may do on a phone", ask: "Choose what they may do" },
  passphrase: { label: "Passphrase", ask: "Enter a passphrase" },
};

const words = (place: string) => labels[place] ?? { label: "This form" };

export async function addSomebody(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const values = typedValues(form);
  const added = addPerson(openHouse(), { name: values.name ?? "", role: values.role ?? "" });
  const turn = before.turn + 1;
  if (!added.ok) return { values, faults: fieldFaults(added.faults, values, words), turn };
  revalidatePath("/people");
  return { values: {}, faults: [], turn };
}

export interface PassphraseAnswer {
  fault: string | null;
  done: boolean;
}

export async function keepPassphrase(_before: PassphraseAnswer, form: FormData): Promise<PassphraseAnswer> {
  const { personId = "", passphrase = "" } = typedValues(form);
  const kept = await setPassphrase(openHouse(), { personId, passphrase });
  if (!kept.ok) {
    const values = { passphrase };
    return { fault: fieldFaults(kept.faults, values, words)[0].words, done: false };
  }
  revalidatePath("/people");
  return { fault: null, done: true };
}

/** A code for one phone: where to trust the house first, and where to pair. */
export interface PairingAnswer {
  /** The time at which the code ends, for reading. */
  until: string;
  doors: { address: string; pair: QrCode; trust: { address: string; code: QrCode } | null }[];
}

export async function pairPhoneFor(
  _before: PairingAnswer | null,
  form: FormData,
): Promise<PairingAnswer | null> {
  const house = openHouse();
  const { personId = "" } = typedValues(form);
  const door = house.phoneDoor;
  const started = door && startPairing(house, personId);
  if (!door || !started) return null;
  const clock = new Intl.DateTimeFormat("en-GB", { hour: "2-digit", minute: "2-digit" });
  return {
    until: clock.format(new Date(started.endsAt)),
    doors: door.addresses.map((address, place) => {
      const trust = door.trust?.addresses[place];
      return {
        address,
        pair: qrCode(`${address}/pair?t=${started.token}`),
        trust: trust ? { address: trust, code: qrCode(trust) } : null,
      };
    }),
  };
}

export async function endPhone(form: FormData): Promise<void> {
  endSession(openHouse(), typedValues(form).sessionId ?? "");
  revalidatePath("/people");
}

export async function nameHere(form: FormData): Promise<void> {
  nameAtHome(openHouse(), typedValues(form).personId || null);
  revalidatePath("/people");
}

export async function partWith(form: FormData): Promise<void> {
  partWithPerson(openHouse(), typedValues(form).personId ?? "");
  revalidatePath("/people");
}
