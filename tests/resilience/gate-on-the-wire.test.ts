import {
  createServer,
  type IncomingHttpHeaders,
  type IncomingMessage,
  request,
  type Server,
} from "node:http";
import type { AddressInfo } from "node:net";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { hostNames } from "@/lib/command/gate";
import { gated } from "@/lib/command/gated";

let server: Server;
let port: number;
let reached: IncomingMessage[];
const stopping = new AbortController();

beforeEach(async () => {
  reached = [];
  server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  port = (server.address() as AddressInfo).port;
  const answerBy = gated(
    { scheme: "http", hosts: hostNames(port), dev: false, stopping: stopping.signal },
    () => (asked, answer) => {
      reached.push(asked);
      asked.resume();
      asked.on("end", () => answer.end("page"));
    },
  );
  server.on("request", answerBy);
});
afterEach(() => new Promise((resolve) => server.close(resolve)));

function ask(
  options: { method?: string; headers?: Record<string, string>; body?: string; chunked?: boolean } = {},
): Promise<{ status: number; headers: IncomingHttpHeaders; body: string }> {
  return new Promise((resolve, reject) => {
    const { method = "GET", headers = {}, body, chunked } = options;
    const length: Record<string, string> =
      body === undefined
        ? {}
        : chunked
          ? { "Transfer-Encoding": "chunked" }
          : { "Content-Length": String(body.length) };
    const asked = request(
      { host: "127.0.0.1", port, method, agent: false, headers: { ...length, ...headers } },
      (answer) => {
        let text = "";
        answer.setEncoding("utf8");
        answer.on("data", (piece) => {
          text += piece;
        });
        answer.on("end", () =>
          resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: text }),
        );
      },
    );
    asked.on("error", reject);
    asked.end(body);
  });
}

describe("the gate on the wire", () => {
  it("answers every request with the safety headers, refused ones too", async () => {
    for (const answer of [await ask(), await ask({ headers: { Host: "evil.example" } })]) {
      expect(answer.headers).toMatchObject({
        "x-content-type-options": "nosniff",
        "x-frame-options": "DENY",
        "referrer-policy": "same-origin",
      });
    }
  });

  it("gives each page a nonce of its own, to the page and to the browser alike", async () => {
    const [one, two] = [await ask(), await ask()];
    const nonces = [one, two].map(
      (answer) => /'nonce-([^']+)'/.exec(String(answer.headers["content-security-policy"]))?.[1],
    );
    expect(nonces[0]).toMatch(/^[A-Za-z0-9+/]{22}==$/);
    expect(nonces[0]).not.toBe(nonces[1]);
    expect(reached.map((asked) => asked.headers["x-nonce"])).toEqual(nonces);
    expect(String(reached[0].headers["content-security-policy"])).toContain(`'nonce-${nonces[0]}'`);
  });

  it("takes off what a caller says to the inside", async () => {
    await ask({
      headers: {
        "X-Nonce": "mine",
        "Content-Security-Policy": "script-src *",
        "X-Forwarded-Host": "evil.example",
        "X-Middleware-Subrequest": "middleware",
        Cookie: "a=b",
      },
    });
    const { headers } = reached[0];
    expect(headers["x-nonce"]).not.toBe("mine");
    expect(headers["content-security-policy"]).not.toBe("script-src *");
    expect(headers).not.toHaveProperty("x-forwarded-host");
    expect(headers).not.toHaveProperty("x-middleware-subrequest");
    expect(headers.cookie).toBe("a=b");
  });

  it.each([
    ["another name", { headers: { Host: "evil.example" } }, 421],
    [
      "what the framework asks itself for a phone",
      { headers: { Cookie: `__Host-proving-bed=${"p".repeat(43)}`, RSC: "1" } },
      403,
    ],
    ["an action that is handed on", { headers: { "X-Action-Forwarded": "1" } }, 403],
    ["a change from nowhere", { method: "POST", body: "{}" }, 403],
    [
      "a change from another site",
      {
        method: "POST",
        body: "{}",
        headers: { Origin: "http://evil.example", "Sec-Fetch-Site": "cross-site" },
      },
      403,
    ],
    [
      "a body of unsaid length",
      { method: "POST", body: "{}", chunked: true, headers: { "Sec-Fetch-Site": "same-origin" } },
      411,
    ],
    [
      "a body that is too long",
      { method: "POST", headers: { "Sec-Fetch-Site": "same-origin", "Content-Length": "99999999" } },
      413,
    ],
  ])("stops %s before any page sees it", async (_, options, status) => {
    const answer = await ask(options);
    expect(answer.status).toBe(status);
    expect(answer.headers.connection).toBe("close");
    expect(answer.body).toMatch(/^[^<>]+\n$/);
    expect(reached).toEqual([]);
  });

  it("lets our own change through", async () => {
    const headers = { "Sec-Fetch-Site": "same-origin", Origin: `http://127.0.0.1:${port}` };
    expect((await ask({ method: "POST", body: "{}", headers })).body).toBe("page");
  });

  it("holds back a caller who will not stop, and says when to come again", async () => {
    const headers = { "Sec-Fetch-Site": "same-origin" };
    let answer = await ask({ method: "POST", body: "{}", headers });
    for (let asked = 0; answer.status === 200 && asked < 2_000; asked += 1)
      answer = await ask({ method: "POST", body: "{}", headers });
    expect(answer.status).toBe(429);
    expect(answer.headers["retry-after"]).toBe("5");
    expect((await ask()).status).toBe(200);
  });
});
