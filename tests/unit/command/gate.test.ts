import { describe, expect, it } from "vitest";
import {
  type Asking,
  bodyLimit,
  contentPolicy,
  gateAnswer,
  hostNames,
  isInnerHeader,
} from "@/lib/command/gate";

const hosts = hostNames(3000);

function asking(changes: Partial<Asking> = {}): Asking {
  return {
    method: "POST",
    path: "/api/observations",
    host: "127.0.0.1:3000",
    origin: "http://127.0.0.1:3000",
    secFetchSite: "same-origin",
    contentLength: "200",
    transferEncoding: undefined,
    ...changes,
  };
}

function answer(changes: Partial<Asking> = {}): number {
  const given = gateAnswer(asking(changes), hosts);
  return given.pass ? 200 : given.status;
}

describe("the gate", () => {
  it("lets our own pages through, by any of the machine's own names", () => {
    for (const host of ["127.0.0.1:3000", "localhost:3000", "LOCALHOST:3000", "[::1]:3000"])
      expect(answer({ host, origin: `http://${host}` })).toBe(200);
  });

  it.each([
    undefined,
    "",
    "evil.example",
    "evil.example:3000",
    "127.0.0.1",
    "127.0.0.1:3001",
    "127.0.0.1:3000.evil",
  ])("answers 421 to a request for %s, even for reading", (host) => {
    expect(answer({ host })).toBe(421);
    expect(answer({ host, method: "GET" })).toBe(421);
  });

  it("knows its names without the port where the port is 80", () => {
    expect(gateAnswer(asking({ host: "localhost", method: "GET" }), hostNames(80)).pass).toBe(true);
  });

  it.each(["GET", "HEAD"])("lets anybody's %s pass: it changes nothing", (method) => {
    expect(answer({ method, origin: "http://evil.example", secFetchSite: "cross-site" })).toBe(200);
  });

  it.each(["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "get", "BREW"])(
    "stops a %s that does not come from our own pages",
    (method) => {
      expect(answer({ method, origin: undefined, secFetchSite: undefined })).toBe(403);
      expect(answer({ method, origin: "http://evil.example", secFetchSite: "cross-site" })).toBe(403);
    },
  );

  it.each(["cross-site", "same-site", "none", "", "same-origin, cross-site"])(
    "stops a change whose Sec-Fetch-Site is %j, whatever its Origin says",
    (secFetchSite) => expect(answer({ secFetchSite })).toBe(403),
  );

  it.each(["null", "", "http://localhost:3000", "https://127.0.0.1:3000", "http://127.0.0.1:3000.evil"])(
    "stops a change from the origin %j, whatever its Sec-Fetch-Site says",
    (origin) => {
      expect(answer({ origin })).toBe(403);
      expect(answer({ origin, secFetchSite: undefined })).toBe(403);
    },
  );

  it("takes either sign where a browser sends only one", () => {
    expect(answer({ origin: undefined })).toBe(200);
    expect(answer({ secFetchSite: undefined })).toBe(200);
  });

  it("stops a body that is too long, does not say how long it is, or says it wrongly", () => {
    expect(answer({ contentLength: String(bodyLimit("/api/observations")) })).toBe(200);
    expect(answer({ contentLength: String(bodyLimit("/api/observations") + 1) })).toBe(413);
    expect(answer({ path: "/trials/new", contentLength: String(bodyLimit("/api/observations") + 1) })).toBe(
      200,
    );
    expect(answer({ contentLength: "-1" })).toBe(413);
    expect(answer({ contentLength: "lots" })).toBe(413);
    expect(answer({ contentLength: undefined, transferEncoding: "chunked" })).toBe(411);
    expect(answer({ contentLength: undefined })).toBe(200);
  });
});

describe("the most that may be sent at once", () => {
  const megabyte = 1024 * 1024;
  it.each([
    ["/api/picture/0f", 3 * megabyte],
    ["/api/import", 64 * megabyte],
    ["/api/import/weather", 64 * megabyte],
    ["/api/restore", 1024 * megabyte],
  ])("is larger for %s, and said in megabytes", (path, bytes) => {
    expect(answer({ path, contentLength: String(bytes) })).toBe(200);
    const tooLong = gateAnswer(asking({ path, contentLength: String(bytes + megabyte) }), hosts);
    expect(tooLong).toMatchObject({ status: 413, words: expect.stringContaining(`${bytes / megabyte} MB`) });
  });

  it.each(["/", "/trials/new", "/api/imports", "/api/picture", "/api/restored"])(
    "is one megabyte for %s",
    (path) => expect(bodyLimit(path)).toBe(megabyte),
  );
});

describe("the content policy", () => {
  it("runs only our own scripts and those with this answer's nonce", () => {
    const policy = contentPolicy("abc", false);
    expect(policy).toContain("script-src 'self' 'nonce-abc';");
    expect(policy).not.toContain("unsafe-eval");
    expect(policy.replace("style-src-attr 'unsafe-inline'", "")).not.toContain("unsafe-inline");
    for (const part of [
      "object-src 'none'",
      "base-uri 'none'",
      "frame-ancestors 'none'",
      "form-action 'self'",
    ])
      expect(policy).toContain(part);
  });

  it("is wider only for the development server", () => {
    expect(contentPolicy("abc", true)).toContain("'unsafe-eval'");
  });
});

describe("headers that would speak to the inside", () => {
  it.each([
    "x-forwarded-host",
    "x-forwarded-for",
    "forwarded",
    "x-middleware-subrequest",
    "x-invoke-path",
    "x-matched-path",
    "x-nonce",
    "content-security-policy",
    "content-security-policy-report-only",
  ])("%s is taken off", (name) => expect(isInnerHeader(name)).toBe(true));

  it.each([
    "accept",
    "cookie",
    "content-type",
    "next-action",
    "next-router-state-tree",
    "rsc",
    "if-none-match",
  ])("%s stays", (name) => expect(isInnerHeader(name)).toBe(false));
});
