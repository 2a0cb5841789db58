import type { House } from "@/lib/service/house";
import { receiveObservations } from "@/lib/service/receive-observations";
import { batchLimit, contractVersion } from "@/lib/sync/contract";
import { draftFact } from "@/lib/sync/device/fact-draft";
import type { Day } from "@/lib/words/day";
import type { Instant } from "@/lib/words/instant";
import type { Observation } from "@/lib/words/observation";

/** The three gardeners of Hazel Clough, invented like the garden, each with a phone of their own. */
const phones = {
  Ina: "01980000-0000-7000-8000-0000000000a1",
  Joss: "01980000-0000-7000-8000-0000000000b2",
  Morwen: "01980000-0000-7000-8000-0000000000c3",
} as const;
export type Gardener = keyof typeof phones;

/** What a fact says; the notebook adds who, when and its own count. */
type Saying = Pick<Observation, "plotId" | "kind"> &
  Partial<
    Pick<
      Observation,
      "cohortOn" | "cause" | "trait" | "part" | "amount" | "unit" | "replaces" | "note" | "walkaboutId"
    >
  >;

export interface Notebook {
  /** Writes one fact down as seen on a day, and, where it was only remembered later, recorded on a later one. */
  write(by: Gardener, seenOn: Day, saying: Saying, recordedOn?: Day): Observation;
  /** Brings everything written since the last time home, in the order in which it was recorded. */
  bringHome(): void;
}

/** An instant some seconds after ten in the morning, the same day. */
function clock(day: Day, seconds: number): Instant {
  const two = (figure: number) => String(Math.floor(figure)).padStart(2, "0");
  return `${day}T${two(10 + seconds / 3600)}:${two((seconds / 60) % 60)}:${two(seconds % 60)}.000Z` as Instant;
}

/** Things by a key, in the order in which keys first appear. */
export function grouped<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): Map<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

/** A house whose clock stands at six in the evening of a day: what is done there is done then. */
export function onEvening(house: House, day: Day): House {
  return { ...house, now: () => `${day}T18:00:00.000Z` as Instant };
}

/** Facts as three phones would make them, sent home by the one way in, each evening's in its own batches. */
export function notebook(house: House): Notebook {
  const counts = new Map<string, number>();
  const onDay = new Map<Day, number>();
  let waiting: Observation[] = [];
  return {
    write(by, seenOn, saying, recordedOn = seenOn) {
      const deviceId = phones[by];
      const deviceSequence = (counts.get(deviceId) ?? 0) + 1;
      const second = (onDay.get(recordedOn) ?? 0) + 9;
      counts.set(deviceId, deviceSequence);
      onDay.set(recordedOn, second);
      const fact: Observation = {
        id: house.newId(),
        deviceId,
        deviceSequence,
        recordedAt: clock(recordedOn, second),
        ...draftFact({ by, seenOn, ...saying }),
      };
      waiting.push(fact);
      return fact;
    },
    bringHome() {
      const facts = waiting.toSorted((a, b) => (a.recordedAt < b.recordedAt ? -1 : 1));
      waiting = [];
      const byDay = grouped(facts, (fact) => fact.recordedAt.slice(0, 10) as Day);
      for (const [day, own] of byDay)
        for (let start = 0; start < own.length; start += batchLimit.facts) {
          const batch = own.slice(start, start + batchLimit.facts);
          const outcome = receiveObservations(onEvening(house, day), {
            contract: contractVersion,
            facts: batch,
          });
          const replies = outcome.ok ? outcome.value.replies : [];
          const lost = replies.find((reply) => reply.answer !== "recorded");
          if (!outcome.ok || lost)
            throw new Error(
              `bringHome requires facts that are taken; got ${JSON.stringify(lost ?? outcome)}`,
            );
        }
    },
  };
}
