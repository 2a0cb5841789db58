import { BlockList, isIP } from "node:net";

/** The private ranges (RFC 1918, RFC 3927, RFC 4193, RFC 4291): all that the house's certificates may speak for. */
export const privateRanges = [
  { family: "ipv4", address: "10.0.0.0", prefix: 8 },
  { family: "ipv4", address: "172.16.0.0", prefix: 12 },
  { family: "ipv4", address: "192.168.0.0", prefix: 16 },
  { family: "ipv4", address: "169.254.0.0", prefix: 16 },
  { family: "ipv6", address: "fc00::", prefix: 7 },
  { family: "ipv6", address: "fe80::", prefix: 10 },
] as const;

const ranges = new BlockList();
for (const { address, prefix, family } of privateRanges) ranges.addSubnet(address, prefix, family);

/** What of `os.networkInterfaces()` is looked at. */
export type Interfaces = Record<string, { address: string; internal: boolean }[] | undefined>;

/**
 * The private addresses of this machine by which a phone can reach it, IPv4 before IPv6. One that only holds on its own
 * cable (169.254…, fe80…) cannot be typed into a browser or is gone tomorrow, and is left out.
 */
export function privateAddresses(interfaces: Interfaces): string[] {
  const found = Object.values(interfaces)
    .flatMap((addresses) => addresses ?? [])
    .filter(({ address, internal }) => !internal && !/^(169\.254\.|fe[89ab])/i.test(address))
    .map(({ address }) => address)
    .filter((address) => isIP(address) > 0 && ranges.check(address, isIP(address) === 4 ? "ipv4" : "ipv6"));
  return [...new Set(found)].sort((a, b) => isIP(a) - isIP(b));
}

/** The machine's name on the home network (multicast DNS, RFC 6762), or null where it has none that can be used. */
export function localName(hostname: string): string | null {
  const label = hostname.split(".")[0].toLowerCase();
  return /^[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?$/.test(label) && label !== "localhost"
    ? `${label}.local`
    : null;
}

/** A host as it stands in an address. */
export function inAddress(host: string): string {
  return isIP(host) === 6 ? `[${host}]` : host;
}
