import type { RandomStream } from "@/lib/statistics/random-stream";

/** The same things in an order where every order is equally likely (Fisher and Yates, in Durstenfeld's form). */
export function shuffled<Item>(items: readonly Item[], stream: RandomStream): Item[] {
  const order = [...items];
  for (let last = order.length - 1; last > 0; last -= 1) {
    const other = stream.whole(last + 1);
    [order[last], order[other]] = [order[other], order[last]];
  }
  return order;
}
