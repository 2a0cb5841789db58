import { X509Certificate } from "node:crypto";
import { readFileSync, statSync } from "node:fs";
import type { IncomingHttpHeaders, IncomingMessage } from "node:http";
import { request as askPlain } from "node:http";
import { request as askEncrypted } from "node:https";
import { createServer } from "node:net";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { gated } from "@/lib/command/gated";
import { openPhoneDoor, type PhoneListener, type PhoneWish, sayPhoneDoor } from "@/lib/command/phone";
import { askedHeaders } from "@/lib/service/asked-by";
import { freshFolder } from "../database/fresh-house";
import { everyAddress } from "./every-address";

const tokens = { gardener: "g".repeat(43), "weigh only": "w".repeat(43), old: "o".repeat(43) } as const;

const home = {
  hostname: "Workshop.lan",
  interfaces: {
    lo: [{ address: "127.0.0.1", internal: true }],
    eth0: [
      { address: "192.168.7.7", internal: false },
      { address: "fd00::7", internal: false },
      { address: "203.0.113.9", internal: false },
    ],
  },
  environment: { NODE_ENV: "test", PROVING_BED_PHONE_PORT: "0", PROVING_BED_TRUST_PORT: "0" } as const,
};

let wish: PhoneWish;
let door: PhoneListener;
let reached: IncomingMessage[];
let nowMs: number;
const stopping = new AbortController();

beforeEach(async () => {
  reached = [];
  nowMs = 0;
  wish = { ...home, dataFolder: freshFolder(), nowMs: Date.now() };
  door = await openPhoneDoor(wish);
  const sessions = new Map(
    (["gardener", "weigh only"] as const).map((role) => [
      tokens[role] as string,
      { sessionId: `session of ${role}`, personId: role, role, slidS: null },
    ]),
  );
  sessions.set(tokens.old, { sessionId: "old", personId: "old", role: "gardener", slidS: 400 } as never);
  door.answerBy(
    gated(
      {
        scheme: "https",
        hosts: door.hosts,
        dev: false,
        stopping: stopping.signal,
        session: (token) => sessions.get(token) ?? null,
      },
      () => (asked, answer) => {
        reached.push(asked);
        asked.resume();
        asked.on("end", () => answer.end("page"));
      },
      () => nowMs,
    ),
  );
});
afterEach(async () => {
  for (const server of door.servers) {
    server.closeAllConnections();
    await new Promise((resolve) => server.close(resolve));
  }
});

interface Answer {
  status: number;
  headers: IncomingHttpHeaders;
  body: string;
}

type Ask = {
  method?: string;
  token?: string;
  headers?: Record<string, string>;
  host?: string;
  body?: string;
};

function collect(resolve: (answer: Answer) => void) {
  return (answer: IncomingMessage) => {
    let body = "";
    answer.setEncoding("latin1");
    answer.on("data", (piece) => {
      body += piece;
    });
    answer.on("end", () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body }));
  };
}

function portOf(address: string): number {
  return Number(new URL(address).port);
}

/** Asks the real listener, trusting the authority that it keeps, under the first name that it offers. */
function ask(path: string, { method = "GET", token, headers = {}, host, body }: Ask = {}): Promise<Answer> {
  const ca = readFileSync(join(wish.dataFolder, "home-authority.pem"), "utf8");
  const own = method === "GET" ? {} : { Origin: door.door.addresses[0], "Sec-Fetch-Site": "same-origin" };
  return new Promise((resolve, reject) => {
    const asked = askEncrypted(
      {
        host: "127.0.0.1",
        port: portOf(door.door.addresses[0]),
        servername: "workshop.local",
        ca,
        path,
        method,
        agent: false,
        headers: {
          Host: host ?? door.hosts[0],
          ...(token && { Cookie: `other=1; __Host-proving-bed=${token}` }),
          ...(body !== undefined && { "Content-Length": String(body.length) }),
          ...own,
          ...headers,
        },
      },
      collect(resolve),
    );
    asked.on("error", reject);
    asked.end(body);
  });
}

function askTrustPage(path: string, method = "GET"): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const port = portOf(door.door.trust!.addresses[0]);
    const asked = askPlain({ host: "127.0.0.1", port, path, method, agent: false }, collect(resolve));
    asked.on("error", reject);
    asked.end();
  });
}

const openPages = ["/pair", "/sign-in", "/walkabout", "/weigh-in"];
const places = everyAddress();
const methods = ["POST", "PUT", "PATCH", "DELETE"];

describe("without a session", () => {
  it("every page but the four that hold no data leads to signing in, and every route says so", async () => {
    expect(places.length).toBeGreaterThan(25);
    for (const { address, isPage } of places) {
      const answer = await ask(address);
      if (openPages.includes(address) || address === "/serwist/sw.js") {
        expect([address, answer.status]).toEqual([address, 200]);
      } else if (isPage || !address.startsWith("/api/")) {
        expect([address, answer.status]).toEqual([address, 303]);
        expect(answer.headers.location).toBe(`/sign-in?to=${encodeURIComponent(address)}`);
      } else {
        expect([address, answer.status]).toEqual([address, 401]);
        expect(JSON.parse(answer.body)).toEqual({ why: expect.stringContaining("Sign in") });
      }
    }
    expect(reached.map((asked) => asked.url)).toEqual([
      ...places
        .map(({ address }) => address)
        .filter((address) => [...openPages, "/serwist/sw.js"].includes(address)),
    ]);
  });

  it("nothing can be sent to any page, action or route, but a name with its passphrase and a code", async () => {
    for (const { address } of places) {
      for (const method of methods) {
        const open = method === "POST" && ["/sign-in/enter", "/pair/use"].includes(address);
        const answer = await ask(address, { method, body: "{}", headers: { "Next-Action": "00ff" } });
        expect([method, address, answer.status]).toEqual([method, address, open ? 200 : 401]);
      }
    }
  });

  it("a forged, ended or misplaced token is none, and no header makes a caller somebody or puts them at home", async () => {
    const headers = {
      [askedHeaders.listener]: "home",
      [askedHeaders.person]: "gardener",
      [askedHeaders.session]: "session of gardener",
      "X-Forwarded-For": "127.0.0.1",
      "X-Forwarded-Host": "127.0.0.1:3000",
      Authorization: `Bearer ${tokens.gardener}`,
    };
    for (const token of ["x".repeat(43), tokens.gardener.slice(1), `${tokens.gardener}x`, ""])
      expect((await ask("/trials", { token, headers })).status).toBe(303);
    await ask("/sign-in", { headers });
    const seen = reached.at(-1)!.headers;
    expect(seen[askedHeaders.listener]).toBe("phone");
    expect(seen[askedHeaders.person]).toBeUndefined();
    expect(seen[askedHeaders.session]).toBeUndefined();
    expect((await ask("/api/field-pack", { host: "127.0.0.1:3000" })).status).toBe(421);
  });

  it.each([
    "/_next/static/../../trials",
    "/_next/static/%2e%2e/%2e%2e/trials",
    "/_next/static/..%2f..%2ftrials",
    "/_next/static/..%5c..%5ctrials",
    "/_next/static/\\..\\..\\trials",
    "//trials",
    "/%74rials%00",
    "/%2574rials",
    "/%E0%A4%A",
    "http://127.0.0.1:3000/trials",
  ])("%s, which could be read in two ways, is not read at all", async (path) => {
    expect((await ask(path)).status).toBe(400);
    expect(reached).toEqual([]);
  });
});

describe("whoever only weighs", () => {
  const token = tokens["weigh only"];

  it("gets the weigh-in and what it needs; every other page leads there, every other route refuses", async () => {
    const open = [...openPages, "/serwist/sw.js", "/api/field-pack"];
    for (const { address, isPage } of places) {
      const answer = await ask(address, { token });
      const led = isPage || !address.startsWith("/api/");
      const status = open.includes(address) ? 200 : led ? 303 : 403;
      expect([address, answer.status, answer.headers.location]).toEqual([
        address,
        status,
        status === 303 ? "/weigh-in" : undefined,
      ]);
    }
  });

  it("sends facts and signs in and out, and nothing else by any method", async () => {
    const open = ["/api/observations", "/sign-in/enter", "/sign-in/leave", "/pair/use"];
    for (const { address } of places) {
      for (const method of methods) {
        const { status } = await ask(address, {
          token,
          method,
          body: "{}",
          headers: { "Next-Action": "00ff" },
        });
        const wanted = method === "POST" && open.includes(address) ? 200 : 403;
        expect([method, address, status]).toEqual([method, address, wanted]);
      }
    }
  });
});

describe("a gardener's phone", () => {
  const token = tokens.gardener;

  it("reaches every page and route but those of the computer at home, and the pages are told who asks", async () => {
    for (const { address } of places) {
      const atHome = /^\/(people|api\/restore|files\/put-back|files\/garden-file)/.test(address);
      const { status } = await ask(address, { token });
      expect([address, status]).toEqual([address, atHome ? 403 : 200]);
    }
    expect(reached.at(-1)!.headers).toMatchObject({
      [askedHeaders.listener]: "phone",
      [askedHeaders.person]: "gardener",
      [askedHeaders.session]: "session of gardener",
    });
    for (const path of [
      "/people",
      "/%70eople",
      "/people.rsc",
      "/people/",
      "/api/restore?x=1",
      "/%61pi/restore",
    ])
      expect([path, (await ask(path, { token })).status]).toEqual([path, 403]);
  });

  it("changes nothing from another site, from plain HTTP's origin, or by an action handed on", async () => {
    const bad: Record<string, string>[] = [
      { Origin: "https://evil.example", "Sec-Fetch-Site": "cross-site" },
      { Origin: `http://${door.hosts[0]}` },
      { Origin: "null" },
      { "Sec-Fetch-Site": "same-site" },
      { "X-Action-Forwarded": "1" },
    ];
    for (const { address } of places) {
      for (const headers of bad) {
        const answer = await ask(address, { token, method: "POST", body: "{}", headers });
        expect([address, headers, answer.status]).toEqual([address, headers, 403]);
      }
    }
    expect(reached).toEqual([]);
  });

  it("is given its cookie anew when the session slides, for this host, encrypted, out of reach of scripts", async () => {
    const { headers } = await ask("/trials", { token: tokens.old });
    expect(headers["set-cookie"]).toEqual([
      `__Host-proving-bed=${tokens.old}; Path=/; Max-Age=400; Secure; HttpOnly; SameSite=Strict`,
    ]);
    expect((await ask("/trials", { token })).headers["set-cookie"]).toBeUndefined();
  });
});

describe("trying passphrases and codes", () => {
  it("is held back after five, by the address, and says when to come again", async () => {
    const attempt = (path: string) => ask(path, { method: "POST", body: "name=Ada" });
    for (let tries = 0; tries < 5; tries += 1)
      expect((await attempt(tries % 2 ? "/pair/use" : "/sign-in/enter")).status).toBe(200);
    for (const path of ["/sign-in/enter", "/pair/use", "/sign-in/%65nter"]) {
      const held = await attempt(path);
      expect([path, held.status, held.headers["retry-after"]]).toEqual([path, 429, "30"]);
      expect(held.body).toContain("Wait half a minute");
    }
    expect((await ask("/walkabout")).status).toBe(200);
    nowMs = 20_000;
    expect((await attempt("/sign-in/enter")).status).toBe(200);
    expect((await attempt("/sign-in/enter")).status).toBe(429);
  });
});

describe("the plain page", () => {
  it("hands out the certificate that the encrypted door stands under, and its fingerprint", async () => {
    const kept = readFileSync(join(wish.dataFolder, "home-authority.pem"), "utf8");
    const { fingerprint256 } = new X509Certificate(kept);
    const given = await askTrustPage("/proving-bed.crt");
    expect(given.headers["content-type"]).toBe("application/x-x509-ca-cert");
    expect(new X509Certificate(Buffer.from(given.body, "latin1")).fingerprint256).toBe(fingerprint256);
    const page = await askTrustPage("/");
    const shown = fingerprint256.replaceAll(":", " ");
    expect(page.body).toContain(shown);
    expect(page.headers["content-security-policy"]).toContain("default-src 'none'");
    expect(sayPhoneDoor(door.door).join("\n")).toContain(shown);
  });

  it("has nothing else: no page, no route, no key, no way to send", async () => {
    const others = ["/home-authority.pem", "/index.html", "/_next/static/x.js", "/../home-authority.pem"];
    for (const path of [...places.map(({ address }) => address), ...others]) {
      if (path === "/") continue;
      const answer = await askTrustPage(path);
      expect([path, answer.status]).toEqual([path, 404]);
      expect(answer.body).not.toContain("PRIVATE KEY");
    }
    for (const method of [...methods, "OPTIONS"]) {
      expect((await askTrustPage("/", method)).status).toBe(405);
      expect((await askTrustPage("/api/observations", method)).status).toBe(405);
    }
    expect(reached).toEqual([]);
  });
});

describe("the door for phones", () => {
  it("is offered by its .local name first, then by private addresses, never by public ones", () => {
    const port = portOf(door.door.addresses[0]);
    expect(door.door.addresses).toEqual([
      `https://workshop.local:${port}`,
      `https://192.168.7.7:${port}`,
      `https://[fd00::7]:${port}`,
    ]);
    expect(sayPhoneDoor(door.door)[0]).toMatch(/^On the phone: https:\/\/workshop\.local:\d+ \(or /);
  });

  it("keeps its authority from start to start, in a file that only its owner reads", async () => {
    const file = join(wish.dataFolder, "home-authority.pem");
    const before = readFileSync(file, "utf8");
    expect(statSync(file).mode & 0o777).toBe(0o600);
    const again = await openPhoneDoor(wish);
    expect(readFileSync(file, "utf8")).toBe(before);
    expect(again.door.trust!.fingerprint).toBe(door.door.trust!.fingerprint);
    for (const server of again.servers) await new Promise((resolve) => server.close(resolve));
  });

  it("says in one line what stands in its way", async () => {
    const taken = createServer();
    const port = await new Promise<number>((resolve) => {
      taken.listen(0, () => resolve((taken.address() as { port: number }).port));
    });
    const opening = (environment: Record<string, string>, changes: Partial<PhoneWish> = {}) =>
      openPhoneDoor({ ...wish, ...changes, environment: { ...home.environment, ...environment } });
    await expect(opening({ PROVING_BED_PHONE_PORT: String(port) })).rejects.toThrow(
      `port ${port} is taken by another program; choose another with PROVING_BED_PHONE_PORT=${port + 1}`,
    );
    await new Promise((resolve) => taken.close(resolve));
    await expect(opening({ PROVING_BED_PHONE_PORT: "lots" })).rejects.toThrow("must be a number");
    await expect(opening({}, { interfaces: {} })).rejects.toThrow("no address on a home network");
    await expect(opening({ PROVING_BED_CERT: "/nowhere.pem" })).rejects.toThrow("named together");
    await expect(
      opening({ PROVING_BED_CERT: "/nowhere.pem", PROVING_BED_KEY: "/nowhere.key" }),
    ).rejects.toThrow("PROVING_BED_CERT names /nowhere.pem, which cannot be read (ENOENT)");
    await expect(opening({}, { nowMs: Date.parse("2060-01-01") })).rejects.toThrow("has run out");
  });
});
