import type { DeviceStore } from "./device-store";
import type { Trouble } from "./send-round";

/** Sends one picture; rejects when there is no network. */
export type Put = (sha256: string, bytes: ArrayBuffer) => Promise<{ status: number }>;

/**
 * Sends the pictures that wait, one by one, after the facts. Home has a picture once it answers so; one that home can
 * never take stays here, marked, and stops no other. Anything else is for later.
 */
export async function sendPictures(store: DeviceStore, put: Put): Promise<Trouble | null> {
  const { waiting } = await store.pictures();
  let trouble: Trouble | null = null;
  for (const sha256 of waiting) {
    const bytes = await store.pictureBytes(sha256);
    if (bytes === null) continue;
    let status: number;
    try {
      ({ status } = await put(sha256, bytes));
    } catch {
      return "no signal";
    }
    if (status === 401 || status === 403) return "sign in";
    if (status === 200) await store.settlePicture(sha256, "home");
    else if (status === 400 || status === 413 || status === 415) await store.settlePicture(sha256, "refused");
    else if (status === 429 || status === 503) return "home cannot answer";
    else trouble = "home cannot answer";
  }
  return trouble;
}
