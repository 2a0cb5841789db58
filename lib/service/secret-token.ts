import { createHash, randomBytes } from "node:crypto";

/** A secret that cannot be guessed: 256 random bits, for a session or a pairing. */
export function newToken(): string {
  return randomBytes(32).toString("base64url");
}

/** What is kept of it here. It is random through and through, so a plain hash is enough. */
export function tokenHash(token: string): string {
  return createHash("sha256").update(token).digest("hex");
}
