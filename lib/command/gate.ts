/** What the gate looks at in a request; header values as they came. */
export interface Asking {
  method: string;
  /** Path without the query. */
  path: string;
  host: string | undefined;
  origin: string | undefined;
  secFetchSite: string | undefined;
  contentLength: string | undefined;
  transferEncoding: string | undefined;
}

export type GateAnswer = { pass: true } | { pass: false; status: number; words: string };

const pass: GateAnswer = { pass: true };

function stop(status: number, words: string): GateAnswer {
  return { pass: false, status, words };
}

export type Scheme = "http" | "https";

/** The names under which this server answers on its port. */
export function hostNames(port: number): string[] {
  const names = ["127.0.0.1", "localhost", "[::1]"];
  return port === 80 ? names : names.map((name) => `${name}:${port}`);
}

const kilobyte = 1024;
const megabyte = 1024 * kilobyte;

/** The most bytes that a request may carry: a batch of facts and its wrapping, a picture, a file taken in, or a form. */
export function bodyLimit(path: string): number {
  if (path === "/api/observations") return 300 * kilobyte;
  if (path.startsWith("/api/picture/")) return 3 * megabyte + 16 * kilobyte;
  if (/^\/api\/import(\/|$)/.test(path)) return 64 * megabyte;
  if (/^\/api\/restore(\/|$)/.test(path)) return 1024 * megabyte;
  return megabyte;
}

function sayBytes(bytes: number): string {
  return bytes < 2 * megabyte ? `${Math.floor(bytes / kilobyte)} kB` : `${Math.floor(bytes / megabyte)} MB`;
}

function fromThisSite(asking: Asking, scheme: Scheme): boolean {
  if (asking.secFetchSite !== undefined && asking.secFetchSite !== "same-origin") return false;
  if (asking.origin !== undefined) return asking.origin === `${scheme}://${asking.host}`;
  return asking.secFetchSite === "same-origin";
}

/**
 * The one gate before the pages: may this request go on? A request under a name that is not ours is another site's
 * trick with names (421); one that would change something must come from our own pages (403); its body must say how
 * long it is (411) and not be too long (413). Pure: the same asking gets the same answer.
 */
export function gateAnswer(asking: Asking, hosts: readonly string[], scheme: Scheme = "http"): GateAnswer {
  if (asking.host === undefined || !hosts.includes(asking.host.toLowerCase()))
    return stop(421, `This server answers at ${scheme}://${hosts[0]} only.`);
  if (asking.method === "GET" || asking.method === "HEAD") return pass;
  if (!fromThisSite(asking, scheme)) return stop(403, "Only this garden's own pages may change it.");
  if (asking.transferEncoding !== undefined) return stop(411, "What is sent must say how long it is.");
  const length = Number(asking.contentLength ?? 0);
  const limit = bodyLimit(asking.path);
  if (!Number.isSafeInteger(length) || length < 0 || length > limit)
    return stop(413, `At most ${sayBytes(limit)} can be sent here at once.`);
  return pass;
}

/** What a page may load and run: its own files, and the scripts that carry this answer's nonce. */
export function contentPolicy(nonce: string, dev: boolean): string {
  const script = dev ? `'self' 'nonce-${nonce}' 'unsafe-eval'` : `'self' 'nonce-${nonce}'`;
  const style = dev ? "'self' 'unsafe-inline'" : `'self' 'nonce-${nonce}'`;
  return [
    "default-src 'self'",
    `script-src ${script}`,
    `style-src ${style}`,
    // Charts place their parts by style attributes, which carry no script.
    "style-src-attr 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self'",
    dev ? "connect-src 'self' ws:" : "connect-src 'self'",
    "worker-src 'self'",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join("; ");
}

/** Said with every answer, whatever it is. `same-origin` and not `no-referrer`, which would blank a form's Origin. */
export const safetyHeaders: Readonly<Record<string, string>> = {
  "X-Content-Type-Options": "nosniff",
  "X-Frame-Options": "DENY",
  "Referrer-Policy": "same-origin",
  "Cross-Origin-Opener-Policy": "same-origin",
  "Cross-Origin-Resource-Policy": "same-origin",
  "Permissions-Policy": "camera=(self), geolocation=(self), microphone=(), payment=(), usb=()",
};

/** Headers by which a caller could speak to the inside of the framework, or pass for a proxy; taken off at the gate.
 * The two request ids stay: under `npm run dev` a page that is asked for by name waits for what is sent under them.
 */
export function isInnerHeader(name: string): boolean {
  return /^(x-proving-bed-|x-forwarded-|x-middleware-|x-invoke-|x-nextjs-(?!(html-)?request-id$)|x-matched-path$|x-nonce$|forwarded$|content-security-policy)/.test(
    name,
  );
}
