import { randomBytes, X509Certificate } from "node:crypto";
import { existsSync, linkSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { CannotStartError } from "./data-folder";
import { type KeyedCertificate, makeAuthority } from "./home-authority";

/** One file for both, so that there is never one without the other. */
const fileName = "home-authority.pem";

function split(pem: string): KeyedCertificate | null {
  const part = (name: string) =>
    new RegExp(`-----BEGIN ${name}-----[\\s\\S]+?-----END ${name}-----`).exec(pem)?.[0] ?? null;
  const certificate = part("CERTIFICATE");
  const key = part("PRIVATE KEY");
  return certificate && key ? { certificate, key } : null;
}

/**
 * The authority of this house out of the data folder; made there by the first start that needs it, in a file that only
 * its owner can read. Phones trust this one: another would have to be trusted on each of them again.
 */
export async function keptAuthority(
  dataFolder: string,
  house: string,
  nowMs: number,
): Promise<KeyedCertificate> {
  const file = join(dataFolder, fileName);
  if (!existsSync(file)) {
    const { certificate, key } = await makeAuthority(house, nowMs);
    const unfinished = `${file}.${randomBytes(6).toString("hex")}`;
    writeFileSync(unfinished, `${certificate}\n${key}\n`, { mode: 0o600, flag: "wx", flush: true });
    linkSync(unfinished, file);
    rmSync(unfinished);
  }
  const kept = split(readFileSync(file, "utf8"));
  if (!kept) throw new CannotStartError(`${file} holds no certificate and key; put it aside and start again`);
  const ends = Date.parse(new X509Certificate(kept.certificate).validTo);
  if (ends <= nowMs)
    throw new CannotStartError(
      `the certificate in ${file} has run out; put it aside and start again, then trust the new one on each phone`,
    );
  return kept;
}
