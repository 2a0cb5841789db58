import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** The pages that a phone keeps. They hold no data and need no session. */
const shells = ["/walkabout", "/weigh-in"] as const;

const asset = /static\/(?:chunks|css|media)\/[^"'\\?]+?\.(?:js|css|woff2)/g;

function filesUnder(path: string): string[] {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path).flatMap((name) => filesUnder(join(path, name)));
}

function namedIn(file: string): string[] {
  return readFileSync(file, "utf8").match(asset) ?? [];
}

/** The built files that the shells load, and whatever those load in turn. */
function shellAssets(built: string): Set<string> {
  const known = new Set<string>();
  const next = shells.flatMap((shell) => {
    const page = join(built, "server/app", shell, "page");
    return [...filesUnder(page), `${page}_client-reference-manifest.js`].flatMap(namedIn);
  });
  next.push(...namedIn(join(built, "build-manifest.json")));
  for (let name = next.pop(); name !== undefined; name = next.pop()) {
    const file = join(built, name);
    if (known.has(name) || !existsSync(file)) continue;
    known.add(name);
    if (!name.endsWith(".woff2")) next.push(...namedIn(file));
  }
  return known;
}

/** The shells themselves, under a revision of their own at every build. */
export function shellEntries(): { url: string; revision: string }[] {
  const revision = crypto.randomUUID();
  return shells.map((url) => ({ url, revision }));
}

/** Of everything that was built, what the shells need: a phone keeps no page that it cannot open without home. */
export function ofShells<Entry extends { url: string }>(entries: Entry[]): { manifest: Entry[] } {
  const assets = shellAssets(join(process.cwd(), ".next"));
  return {
    manifest: entries.filter(({ url }) => {
      const at = url.indexOf("static/");
      return at < 0 || assets.has(url.slice(at)) || url.endsWith(".woff2");
    }),
  };
}
