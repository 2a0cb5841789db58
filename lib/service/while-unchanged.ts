import type { Database } from "@/db/open";
import { changeMark } from "@/db/queries/list-trial-stamps";
import type { House } from "./house";

const most = 400;
const keptOf = new WeakMap<Database, { mark: string; made: Map<string, unknown> }>();

/**
 * Keeps what is made of the garden's file until anything in the file changes, by this program or another one: pages are
 * looked at more often than things are written down. What is made is shared, so it is not to be changed.
 *
 * @param key what is made and of what, with all it rests on beside the file: the day, say
 */
export function whileUnchanged<Made>({ database }: House, key: readonly unknown[], make: () => Made): Made {
  const mark = changeMark(database);
  let kept = keptOf.get(database);
  if (kept?.mark !== mark) {
    kept = { mark, made: new Map() };
    keptOf.set(database, kept);
  }
  const name = JSON.stringify(key);
  if (kept.made.has(name)) return kept.made.get(name) as Made;
  const made = make();
  const { made: all } = kept;
  all.set(name, made);
  if (all.size > most) all.delete(all.keys().next().value as string);
  // What failed is tried again by whoever asks next.
  if (made instanceof Promise) made.catch(() => all.delete(name));
  return made;
}
