import type { PersonRole } from "@/lib/words/person";

/** What the door for phones looks at in a request. */
export interface AskingIn {
  method: string;
  /** The path as `plainPath` reads it. */
  path: string;
  /** Of whoever is signed in; null for nobody. */
  role: PersonRole | null;
}

/** Where a request that may not go on is sent, or what it is told. */
export type Access =
  | { pass: true }
  | { pass: false; to: string }
  | { pass: false; status: number; words: string };

/**
 * A path without its query, decoded; null for one that could be read in two ways. What the gate takes for one page must
 * not be another behind it.
 */
export function plainPath(url: string): string | null {
  const path = url.split(/[?#]/, 1)[0];
  let plain: string;
  try {
    plain = decodeURIComponent(path);
  } catch {
    return null;
  }
  const slips = plain.split("/").some((part) => part === "." || part === "..");
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
  if (!path.startsWith("/") || slips || /\/\/|[\\%\u0000-\u001f]|%2f/i.test(plain) || /%2f/i.test(path))
    return null;
  return plain;
}

/** Pages and files that hold no data: the shells that a phone keeps, signing in, and what they are drawn with. */
const open = new Set([
  "/walkabout",
  "/weigh-in",
  "/sign-in",
  "/pair",
  "/serwist/sw.js",
  "/manifest.webmanifest",
  "/icon.svg",
  "/icon1.png",
  "/icon2.png",
  "/apple-icon.png",
  "/favicon.ico",
]);
const openTo = new Set(["/sign-in/enter", "/pair/use"]);
const weighing = new Set(["GET /api/field-pack", "POST /api/observations", "POST /sign-in/leave"]);

/**
 * What is done on the computer at home only: who may come in, putting another garden in the place of this one, and taking
 * out the file that holds who may come in.
 */
const atHome = /^\/(people|api\/restore|files\/put-back|files\/garden-file)/;

const pass: Access = { pass: true };

/**
 * The door for phones: may this request go on? Without a session only what holds no data. Whoever only weighs gets what
 * weighing needs. The rest, and whatever is added later, is for gardeners; a few things are for the computer at home.
 * Pure: the same asking gets the same answer.
 */
export function accessAnswer({ method, path, role }: AskingIn): Access {
  const reads = method === "GET" || method === "HEAD";
  if (reads && (open.has(path) || path.startsWith("/_next/static/"))) return pass;
  if (method === "POST" && openTo.has(path)) return pass;
  if (role === null) {
    if (reads && !path.startsWith("/api/"))
      return { pass: false, to: `/sign-in?to=${encodeURIComponent(path)}` };
    return {
      pass: false,
      status: 401,
      words: "Sign in first: this phone is not signed in, or its session has ended.",
    };
  }
  if (role === "weigh only") {
    if (weighing.has(`${reads ? "GET" : method} ${path}`)) return pass;
    if (reads && !path.startsWith("/api/")) return { pass: false, to: "/weigh-in" };
    return { pass: false, status: 403, words: "Whoever is signed in here may only weigh what was picked." };
  }
  if (atHome.test(path))
    return { pass: false, status: 403, words: "This can be done on the computer at home only." };
  return pass;
}
