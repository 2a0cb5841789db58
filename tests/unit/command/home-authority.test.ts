import { X509Certificate } from "node:crypto";
import { type AddressInfo, connect as connectPlain } from "node:net";
import { connect, createServer } from "node:tls";
import { beforeAll, describe, expect, it } from "vitest";
import { localName, privateAddresses } from "@/lib/command/home-addresses";
import { type KeyedCertificate, makeAuthority, makeLeaf } from "@/lib/command/home-authority";

const nowMs = Date.now();
const dayMs = 86_400_000;
let authority: KeyedCertificate;
beforeAll(async () => {
  authority = await makeAuthority("workshop", nowMs);
});

/** Whether a client that trusts only the authority takes a server under this name; else the code of its refusal. */
async function handshake(leaf: KeyedCertificate, name: string): Promise<string> {
  const server = createServer({ cert: leaf.certificate, key: leaf.key }, (socket) => socket.end());
  server.on("tlsClientError", () => {});
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const { port } = server.address() as AddressInfo;
  const answer = await new Promise<string>((resolve) => {
    const socket = connect({
      socket: connectPlain(port, "127.0.0.1"),
      ca: authority.certificate,
      ...(/^[\d.]+$|:/.test(name) ? { host: name } : { servername: name }),
    });
    socket.once("secureConnect", () => {
      socket.destroy();
      resolve("taken");
    });
    socket.once("error", (fault) => resolve(fault.message));
  });
  await new Promise((resolve) => server.close(resolve));
  return answer;
}

describe("the authority of the house", () => {
  it.each(["workshop.local", "10.1.2.3", "172.31.0.9", "192.168.1.20", "fd00::5"])(
    "vouches for a server under %s",
    async (host) => expect(await handshake(await makeLeaf(authority, [host], nowMs), host)).toBe("taken"),
  );

  it.each([
    "example.com",
    "local.example.com",
    "notlocal",
    "8.8.8.8",
    "172.32.0.1",
    "192.169.0.1",
    "2001:db8::1",
  ])("cannot vouch for %s, even with its key in the wrong hands", async (host) => {
    const forged = await makeLeaf(authority, [host], nowMs);
    expect(await handshake(forged, host)).toBe("permitted subtree violation");
  });

  it("vouches for no other name than those in the certificate", async () => {
    const leaf = await makeLeaf(authority, ["workshop.local"], nowMs);
    expect(await handshake(leaf, "kitchen.local")).toContain("does not match certificate's altnames");
  });

  it("makes certificates that hold 397 days at most and cannot make others", async () => {
    const leaf = new X509Certificate((await makeLeaf(authority, ["workshop.local"], nowMs)).certificate);
    const days = (Date.parse(leaf.validTo) - Date.parse(leaf.validFrom)) / dayMs;
    expect(days).toBeLessThanOrEqual(397);
    expect(Date.parse(leaf.validFrom)).toBeLessThan(nowMs);
    expect(leaf.ca).toBe(false);
    const last = await makeLeaf(authority, ["workshop.local"], nowMs + 3_500 * dayMs);
    expect(new X509Certificate(last.certificate).validTo).toBe(
      new X509Certificate(authority.certificate).validTo,
    );
  });
});

describe("where a phone can find this machine", () => {
  it("is at private addresses only, IPv4 first, each once", () => {
    const addresses = [
      "fe80::1",
      "fd12::1",
      "192.0.2.2",
      "10.0.0.4",
      "169.254.1.1",
      "2001:db8::1",
      "10.0.0.4",
    ];
    const eth0 = addresses.map((address) => ({ address, internal: false }));
    const lo = [{ address: "10.9.9.9", internal: true }];
    expect(privateAddresses({ eth0, lo, wlan0: undefined })).toEqual(["10.0.0.4", "fd12::1"]);
  });

  it.each([
    ["Workshop", "workshop.local"],
    ["workshop.home.arpa", "workshop.local"],
    ["localhost", null],
    ["under_score", null],
    ["", null],
  ])("is by the name of %j as %j", (hostname, name) => expect(localName(hostname)).toBe(name));
});
