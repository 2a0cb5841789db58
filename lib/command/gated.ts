import { randomBytes } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { contentPolicy, gateAnswer, hostNames, isInnerHeader, safetyHeaders } from "./gate";
import { rateLimit } from "./rate";

/** What answers requests. */
export type Pages = (request: IncomingMessage, answer: ServerResponse) => void;

/** Answers in one line of text. */
export function answerPlainly(answer: ServerResponse, status: number, words: string): void {
  answer.writeHead(status, { "Content-Type": "text/plain; charset=utf-8", "Cache-Control": "no-store" });
  answer.end(`${words}\n`);
}

/** The gate as it stands before the pages: nothing reaches `pages` but through it. */
export function gated(
  rules: { port: number; dev: boolean; stopping: AbortSignal },
  pages: () => Pages,
): Pages {
  const hosts = hostNames(rules.port);
  const mayRead = rateLimit({ perSecond: 100, burst: 2_000 });
  const mayWrite = rateLimit({ perSecond: 10, burst: 300 });
  return (request, answer) => {
    for (const [name, value] of Object.entries(safetyHeaders)) answer.setHeader(name, value);
    const reads = request.method === "GET" || request.method === "HEAD";
    const within = (reads ? mayRead : mayWrite)(request.socket.remoteAddress ?? "", performance.now());
    const gate = gateAnswer(
      {
        method: request.method ?? "",
        path: (request.url ?? "/").split("?")[0],
        host: request.headers.host,
        origin: request.headers.origin,
        secFetchSite: request.headers["sec-fetch-site"] as string | undefined,
        contentLength: request.headers["content-length"],
        transferEncoding: request.headers["transfer-encoding"],
      },
      hosts,
    );
    if (!gate.pass || !within) {
      // What was sent is not read, so the connection cannot be used again.
      answer.setHeader("Connection", "close");
      if (!gate.pass) return answerPlainly(answer, gate.status, gate.words);
      answer.setHeader("Retry-After", "5");
      return answerPlainly(answer, 429, "Too many requests at once; wait a few seconds.");
    }
    for (const name of Object.keys(request.headers)) {
      if (isInnerHeader(name)) delete request.headers[name];
    }
    const nonce = randomBytes(16).toString("base64");
    const policy = contentPolicy(nonce, rules.dev);
    request.headers["x-nonce"] = nonce;
    request.headers["content-security-policy"] = policy;
    answer.setHeader("Content-Security-Policy", policy);
    if (rules.stopping.aborted) answer.setHeader("Connection", "close");
    pages()(request, answer);
  };
}
