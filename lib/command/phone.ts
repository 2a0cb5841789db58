import { X509Certificate } from "node:crypto";
import { readFileSync } from "node:fs";
import { createServer as createPlain, type Server } from "node:http";
import { createServer as createEncrypted } from "node:https";
import { createSecureContext } from "node:tls";
import type { PhoneDoor } from "@/lib/service/house";
import { CannotStartError } from "./data-folder";
import type { Pages } from "./gated";
import { type Interfaces, inAddress, localName, privateAddresses } from "./home-addresses";
import { type KeyedCertificate, makeLeaf } from "./home-authority";
import { keptAuthority } from "./kept-authority";
import { sayFingerprint, trustPage } from "./trust-page";

/** What is known of the machine and wanted by whoever started it. */
export interface PhoneWish {
  dataFolder: string;
  environment: NodeJS.ProcessEnv;
  hostname: string;
  interfaces: Interfaces;
  nowMs: number;
}

/** A port that listens, not answering yet. */
export interface PhoneListener {
  door: PhoneDoor;
  /** Names with the port, as a browser sends them. */
  hosts: string[];
  /** Lets requests in; what went before is refused. */
  answerBy(pages: Pages): void;
  servers: Server[];
}

const phonePort = "PROVING_BED_PHONE_PORT";
const trustPort = "PROVING_BED_TRUST_PORT";

function portOf(environment: NodeJS.ProcessEnv, name: string, usual: number): number {
  const port = Number(environment[name] || usual);
  if (!Number.isInteger(port) || port < 0 || port > 65_535)
    throw new CannotStartError(`${name} must be a number from 0 to 65535; found ${environment[name]}`);
  return port;
}

/** On every address of the machine. */
function listen(server: Server, name: string, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once("error", (cause: NodeJS.ErrnoException) => {
      const why =
        cause.code === "EADDRINUSE" ? "is taken by another program" : `cannot be used (${cause.code})`;
      reject(new CannotStartError(`port ${port} ${why}; choose another with ${name}=${port + 1}`, { cause }));
    });
    server.listen(port, () => {
      const bound = server.address();
      resolve(typeof bound === "object" && bound ? bound.port : port);
    });
  });
}

function readPem(name: string, file: string): string {
  try {
    return readFileSync(file, "utf8");
  } catch (cause) {
    const code = (cause as NodeJS.ErrnoException).code;
    throw new CannotStartError(`${name} names ${file}, which cannot be read (${code})`, { cause });
  }
}

/** A certificate from elsewhere with the names that it is for; null where none is named. */
function ownCertificate(environment: NodeJS.ProcessEnv): (KeyedCertificate & { names: string[] }) | null {
  const { PROVING_BED_CERT: certificateFile, PROVING_BED_KEY: keyFile } = environment;
  if (!certificateFile && !keyFile) return null;
  if (!certificateFile || !keyFile)
    throw new CannotStartError("PROVING_BED_CERT and PROVING_BED_KEY are named together; found only one");
  const certificate = readPem("PROVING_BED_CERT", certificateFile);
  const key = readPem("PROVING_BED_KEY", keyFile);
  try {
    createSecureContext({ cert: certificate, key });
    const { subjectAltName = "" } = new X509Certificate(certificate);
    const names = [...subjectAltName.matchAll(/(?:DNS|IP Address):([^,\s]+)/g)]
      .map(([, name]) => name.toLowerCase())
      .filter((name) => !name.includes("*"));
    if (names.length === 0) throw new Error("it is for no plain name");
    return { certificate, key, names };
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new CannotStartError(`${certificateFile} and ${keyFile} cannot be used together (${why})`, {
      cause,
    });
  }
}

function strict<Some extends Server>(server: Some, withinMs: number): Some {
  server.requestTimeout = withinMs;
  server.headersTimeout = 10_000;
  server.maxConnections = 200;
  return server;
}

/**
 * Opens the door for phones: an encrypted listener on the home network and, beside it, the plain page that hands out the
 * certificate of the house. With a certificate from elsewhere (`PROVING_BED_CERT`, `PROVING_BED_KEY`) there is no such page.
 */
export async function openPhoneDoor(wish: PhoneWish): Promise<PhoneListener> {
  const { environment } = wish;
  const own = ownCertificate(environment);
  const name = localName(wish.hostname);
  const addresses = privateAddresses(wish.interfaces);
  if (!own && addresses.length === 0)
    throw new CannotStartError(
      "this computer has no address on a home network; connect it to one, or start without --phone",
    );
  const hosts = own ? own.names : [...(name ? [name] : []), ...addresses];
  const ports = {
    phone: portOf(environment, phonePort, 3443),
    trust: portOf(environment, trustPort, 3480),
  };

  // The ports first: where one is taken nothing has been written.
  const encrypted = strict(createEncrypted({ minVersion: "TLSv1.2" }), 120_000);
  const plain = strict(createPlain(), 10_000);
  const port = await listen(encrypted, phonePort, ports.phone);
  const offered = hosts.map((host) => `https://${inAddress(host)}:${port}`.replace(/:443$/, ""));
  const servers: Server[] = [encrypted];
  let trust: PhoneDoor["trust"] = null;
  if (own) encrypted.setSecureContext({ cert: own.certificate, key: own.key });
  else {
    const onPort = await listen(plain, trustPort, ports.trust);
    servers.push(plain);
    const house = name?.replace(/\.local$/, "") ?? "home";
    const authority = await keptAuthority(wish.dataFolder, house, wish.nowMs);
    const leaf = await makeLeaf(authority, hosts, wish.nowMs);
    encrypted.setSecureContext({ cert: `${leaf.certificate}\n${authority.certificate}`, key: leaf.key });
    plain.on("request", trustPage(authority.certificate, offered[0]));
    trust = {
      addresses: hosts.map((host) => `http://${inAddress(host)}:${onPort}`),
      fingerprint: sayFingerprint(authority.certificate),
    };
  }
  return {
    door: { addresses: offered, trust },
    hosts: offered.map((address) => address.slice("https://".length)),
    answerBy: (pages) => encrypted.on("request", pages),
    servers,
  };
}

/** What is said of the door when the program has started. */
export function sayPhoneDoor({ addresses, trust }: PhoneDoor): string[] {
  const [first, ...others] = addresses;
  const or = others.length > 0 ? ` (or ${others.join(", ")})` : "";
  const lines = [`On the phone: ${first}${or}`];
  if (trust) {
    lines.push(`First on each phone, once: ${trust.addresses.join(" or ")}`);
    lines.push(`The certificate that the phone then shows must have the fingerprint ${trust.fingerprint}`);
  }
  return [...lines, "Then pair it under Files, People and phones, on this computer."];
}
