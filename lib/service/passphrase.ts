import { randomBytes, scrypt, timingSafeEqual } from "node:crypto";

/** 32 MB and about a tenth of a second a try (`cost` 2^15, `blockSize` 8), written into each hash so that it may grow. */
const cost = 32_768;
const blockSize = 8;
const hashBytes = 32;

function derive(passphrase: string, salt: Buffer, n: number, r: number): Promise<Buffer> {
  const options = { N: n, r, p: 1, maxmem: 256 * n * r };
  return new Promise((resolve, reject) => {
    scrypt(passphrase.normalize("NFKC").trim(), salt, hashBytes, options, (fault, key) =>
      fault ? reject(fault) : resolve(key),
    );
  });
}

/** What is kept of a passphrase: `scrypt:cost:blockSize:salt:hash`. */
export async function hashPassphrase(passphrase: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(passphrase, salt, cost, blockSize);
  return ["scrypt", cost, blockSize, salt.toString("base64url"), key.toString("base64url")].join(":");
}

const nobodys = `scrypt:${cost}:${blockSize}:${"A".repeat(22)}:${"A".repeat(43)}`;

/** Whether it is the passphrase of this hash. Nobody's takes as long as somebody's, so that names cannot be sounded out. */
export async function isPassphrase(passphrase: string, kept: string | null): Promise<boolean> {
  const [, n, r, salt, hash] = (kept ?? nobodys).split(":");
  const key = await derive(passphrase, Buffer.from(salt, "base64url"), Number(n), Number(r));
  return timingSafeEqual(key, Buffer.from(hash, "base64url")) && kept !== null;
}
