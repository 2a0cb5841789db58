import { readdirSync } from "node:fs";
import { join, posix } from "node:path";

const app = join(import.meta.dirname, "..", "..", "app");

/** One page or route as it lies in `app`, with an address that leads to it. */
export interface Place {
  address: string;
  isPage: boolean;
}

/** Every page and route that there is, read from the folder, so that a new one cannot be forgotten. */
export function everyAddress(): Place[] {
  return readdirSync(app, { recursive: true, encoding: "utf8" })
    .map((name) => name.replaceAll("\\", "/"))
    .filter((name) => /(^|\/)(page|route)\.tsx?$/.test(name))
    .map((name) => ({
      isPage: /page\.tsx?$/.test(name),
      address: posix
        .join("/", posix.dirname(name))
        .replace("/serwist/[path]", "/serwist/sw.js")
        .replace(/\[\w+\]/g, "0193a1b2-0000-7000-8000-0000000000aa"),
    }))
    .sort((a, b) => (a.address < b.address ? -1 : 1));
}
