import { randomBytes } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { askedHeaders } from "@/lib/service/asked-by";
import { cookieToken, sessionCookie } from "@/lib/service/session-cookie";
import type { RunningSession } from "@/lib/service/session-of";
import { accessAnswer, plainPath } from "./access";
import { contentPolicy, gateAnswer, isInnerHeader, type Scheme, safetyHeaders } from "./gate";
import { rateLimit } from "./rate";

/** What answers requests. */
export type Pages = (request: IncomingMessage, answer: ServerResponse) => void;

/** Answers in one line of text. */
export function answerPlainly(answer: ServerResponse, status: number, words: string): void {
  answer.writeHead(status, { "Content-Type": "text/plain; charset=utf-8", "Cache-Control": "no-store" });
  answer.end(`${words}\n`);
}

/** Answers what was asked of `/api` in JSON, since a program reads it, and anything else in one line. */
function answerInKind(answer: ServerResponse, path: string, status: number, words: string): void {
  if (path.startsWith("/api/")) {
    answer.writeHead(status, { "Content-Type": "application/json", "Cache-Control": "no-store" });
    answer.end(JSON.stringify({ why: words }));
  } else answerPlainly(answer, status, words);
}

/** One listener: under which names it answers, and whether whoever comes must sign in. */
export interface Door {
  scheme: Scheme;
  /** Names with the port, as a browser sends them. */
  hosts: readonly string[];
  dev: boolean;
  stopping: AbortSignal;
  /**
   * The session of a token, null when it has none, undefined while that cannot be looked up. There where signing in is
   * required: decided by the listener, never by a header.
   */
  session?(token: string): RunningSession | null | undefined;
}

/** Where a secret can be tried. */
const tried = new Set(["/sign-in/enter", "/pair/use"]);

const loopbackAsked = { [askedHeaders.listener]: "home" };

/** Guessing is slow: so many tries at once from one address and from all together, then one every so often. */
function tryLimit(): (address: string, atMs: number) => boolean {
  const each = rateLimit({ perSecond: 1 / 20, burst: 5 });
  const together = rateLimit({ perSecond: 1 / 5, burst: 20 });
  return (address, atMs) => each(address, atMs) && together("", atMs);
}

/** The gate as it stands before the pages: nothing reaches `pages` but through it. */
export function gated(door: Door, pages: () => Pages, nowMs = () => performance.now()): Pages {
  const mayRead = rateLimit({ perSecond: 100, burst: 2_000 });
  const mayWrite = rateLimit({ perSecond: 10, burst: 300 });
  const mayTry = tryLimit();
  return (request, answer) => {
    for (const [name, value] of Object.entries(safetyHeaders)) answer.setHeader(name, value);
    const { method = "", url = "/", headers } = request;
    const reads = method === "GET" || method === "HEAD";
    const address = request.socket.remoteAddress ?? "";
    const stop = (status: number, words: string, retryAfterS?: number) => {
      // What was sent is not read, so the connection cannot be used again.
      answer.setHeader("Connection", "close");
      if (retryAfterS !== undefined) answer.setHeader("Retry-After", String(retryAfterS));
      return answerInKind(answer, url, status, words);
    };
    const within = (reads ? mayRead : mayWrite)(address, nowMs());
    const gate = gateAnswer(
      {
        method,
        path: url.split("?")[0],
        host: headers.host,
        origin: headers.origin,
        secFetchSite: headers["sec-fetch-site"] as string | undefined,
        contentLength: headers["content-length"],
        transferEncoding: headers["transfer-encoding"],
      },
      door.hosts,
      door.scheme,
    );
    if (!gate.pass) return stop(gate.status, gate.words);
    // By this the framework would hand an action on to a page that the gate was not asked about.
    if (headers["x-action-forwarded"] !== undefined) return stop(403, "An action is sent to its own page.");
    if (!within) return stop(429, "Too many requests at once; wait a few seconds.", 5);

    let asked: Record<string, string> = loopbackAsked;
    // Browsers send a phone's token to the encrypted door only: this is the framework, asking itself for a phone.
    if (!door.session && cookieToken(headers.cookie) !== null)
      return stop(403, "A phone is answered at its own door.");
    if (door.session) {
      const path = plainPath(url);
      if (path === null) return stop(400, "This address cannot be read.");
      if (method === "POST" && tried.has(path) && !mayTry(address, nowMs()))
        return stop(429, "Too many tries. Wait half a minute, go back and try again.", 30);
      const token = cookieToken(headers.cookie);
      const session = token === null ? null : door.session(token);
      if (session === undefined) return stop(503, "Home is not ready; try again in a moment.", 5);
      const access = accessAnswer({ method, path, role: session?.role ?? null });
      if (!access.pass) {
        if ("words" in access) return stop(access.status, access.words);
        answer.writeHead(303, { Location: access.to, "Cache-Control": "no-store" });
        answer.end();
        return;
      }
      asked = { [askedHeaders.listener]: "phone" };
      if (session) {
        asked[askedHeaders.person] = session.personId;
        asked[askedHeaders.session] = session.sessionId;
        if (session.slidS !== null && token !== null)
          answer.appendHeader("Set-Cookie", sessionCookie(token, session.slidS));
      }
    }

    for (const name of Object.keys(headers)) {
      if (isInnerHeader(name)) delete headers[name];
    }
    // Nothing travels far to the browser at home: to compress a page would take longer than to hand it over.
    if (!door.session) delete headers["accept-encoding"];
    const nonce = randomBytes(16).toString("base64");
    const policy = contentPolicy(nonce, door.dev);
    Object.assign(headers, asked, { "x-nonce": nonce, "content-security-policy": policy });
    answer.setHeader("Content-Security-Policy", policy);
    if (door.stopping.aborted) answer.setHeader("Connection", "close");
    pages()(request, answer);
  };
}
