import "reflect-metadata";
import { randomBytes, webcrypto } from "node:crypto";
import { isIP } from "node:net";
import {
  AuthorityKeyIdentifierExtension,
  BasicConstraintsExtension,
  cryptoProvider,
  ExtendedKeyUsage,
  ExtendedKeyUsageExtension,
  Extension,
  KeyUsageFlags,
  KeyUsagesExtension,
  PemConverter,
  SubjectAlternativeNameExtension,
  SubjectKeyIdentifierExtension,
  X509Certificate,
  X509CertificateGenerator,
} from "@peculiar/x509";
import { privateRanges } from "./home-addresses";

cryptoProvider.set(webcrypto as Crypto);

const ecdsa = { name: "ECDSA", namedCurve: "P-256", hash: "SHA-256" } as const;
const dayMs = 86_400_000;
const authorityDays = 3_650;
/** Phones refuse certificates of servers that hold for longer. */
const mostLeafDays = 397;

/** A certificate and its key, both as PEM. */
export interface KeyedCertificate {
  certificate: string;
  key: string;
}

function serial(): string {
  const bytes = randomBytes(16);
  bytes[0] = (bytes[0] & 0x7f) | 0x40;
  return bytes.toString("hex");
}

function der(tag: number, ...parts: Uint8Array[]): Uint8Array<ArrayBuffer> {
  const content = Buffer.concat(parts);
  if (content.length < 128) return Uint8Array.of(tag, content.length, ...content);
  return Uint8Array.of(tag, 0x82, content.length >> 8, content.length & 0xff, ...content);
}

function addressBytes(address: string, family: "ipv4" | "ipv6"): number[] {
  if (family === "ipv4") return address.split(".").map(Number);
  const groups = address
    .replace(/::$/, "")
    .split(":")
    .map((group) => Number.parseInt(group, 16));
  return Array.from({ length: 16 }, (_, at) => {
    const group = groups[at >> 1] ?? 0;
    return at % 2 === 0 ? group >> 8 : group & 0xff;
  });
}

/** RFC 5280, 4.2.1.10: only names under `.local` and private addresses. The package has no words for it. */
function nameConstraints(): Extension {
  const subtrees = privateRanges.map(({ address, prefix, family }) => {
    const bytes = addressBytes(address, family);
    const mask = bytes.map((_, at) => 0xff & ~(0xff >> Math.min(8, Math.max(0, prefix - 8 * at))));
    return der(0x30, der(0x87, Buffer.from([...bytes, ...mask])));
  });
  const local = der(0x30, der(0x82, Buffer.from("local", "ascii")));
  return new Extension("2.5.29.30", true, der(0x30, der(0xa0, local, ...subtrees)));
}

async function keyPem(key: CryptoKey): Promise<string> {
  return PemConverter.encode(await webcrypto.subtle.exportKey("pkcs8", key), "PRIVATE KEY");
}

function newKeys(): Promise<CryptoKeyPair> {
  return webcrypto.subtle.generateKey(ecdsa, true, ["sign", "verify"]) as Promise<CryptoKeyPair>;
}

/**
 * Makes the authority of this house: a certificate that a phone is told to trust, and its key, which never leaves the
 * data folder. It can vouch for servers under private addresses and `.local` only, so that a stolen key opens no other site.
 */
export async function makeAuthority(house: string, nowMs: number): Promise<KeyedCertificate> {
  const keys = await newKeys();
  const made = await X509CertificateGenerator.createSelfSigned({
    serialNumber: serial(),
    name: [{ CN: [`Proving Bed at ${house}`] }],
    notBefore: new Date(nowMs - dayMs),
    notAfter: new Date(nowMs + authorityDays * dayMs),
    signingAlgorithm: ecdsa,
    keys,
    extensions: [
      new BasicConstraintsExtension(true, 0, true),
      new KeyUsagesExtension(KeyUsageFlags.keyCertSign | KeyUsageFlags.cRLSign, true),
      nameConstraints(),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  return { certificate: made.toString("pem"), key: await keyPem(keys.privateKey) };
}

/** Makes the certificate that this start of the server shows, for these names and addresses. */
export async function makeLeaf(
  authority: KeyedCertificate,
  hosts: readonly string[],
  nowMs: number,
): Promise<KeyedCertificate> {
  const issuer = new X509Certificate(authority.certificate);
  const signingKey = await webcrypto.subtle.importKey(
    "pkcs8",
    PemConverter.decodeFirst(authority.key),
    ecdsa,
    false,
    ["sign"],
  );
  const keys = await newKeys();
  const notBefore = nowMs - dayMs;
  const made = await X509CertificateGenerator.create({
    serialNumber: serial(),
    // No name of a server: some readers would hold an address here against the permitted names.
    subject: [{ CN: ["Proving Bed server"] }],
    issuer: issuer.subject,
    notBefore: new Date(notBefore),
    notAfter: new Date(Math.min(notBefore + mostLeafDays * dayMs, issuer.notAfter.getTime())),
    signingAlgorithm: ecdsa,
    publicKey: keys.publicKey,
    signingKey: signingKey as CryptoKey,
    extensions: [
      new BasicConstraintsExtension(false, undefined, true),
      new KeyUsagesExtension(KeyUsageFlags.digitalSignature, true),
      new ExtendedKeyUsageExtension([ExtendedKeyUsage.serverAuth]),
      new SubjectAlternativeNameExtension(
        hosts.map((value) => ({ type: isIP(value) === 0 ? ("dns" as const) : ("ip" as const), value })),
      ),
      await AuthorityKeyIdentifierExtension.create(issuer.publicKey),
      await SubjectKeyIdentifierExtension.create(keys.publicKey),
    ],
  });
  return { certificate: made.toString("pem"), key: await keyPem(keys.privateKey) };
}
