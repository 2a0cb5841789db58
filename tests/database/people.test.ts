import { describe, expect, it } from "vitest";
import { addPerson } from "@/lib/service/add-person";
import { askedBy, askedHeaders } from "@/lib/service/asked-by";
import { endSession } from "@/lib/service/end-session";
import { fieldPack } from "@/lib/service/field-pack";
import { nameAtHome } from "@/lib/service/name-at-home";
import { pairPhone } from "@/lib/service/pair-phone";
import { pairingFor } from "@/lib/service/pairing-for";
import { partWithPerson } from "@/lib/service/part-with-person";
import { peopleView } from "@/lib/service/people-view";
import { receiveFrom } from "@/lib/service/receive-from";
import { sessionOf } from "@/lib/service/session-of";
import { setPassphrase } from "@/lib/service/set-passphrase";
import { signIn } from "@/lib/service/sign-in";
import { startPairing } from "@/lib/service/start-pairing";
import { contractVersion } from "@/lib/sync/contract";
import { type Instant, instantOf } from "@/lib/words/instant";
import type { PersonRole } from "@/lib/words/person";
import { freshHouse, given, houseWithTrial, someFact } from "./fresh-house";

type TestHouse = ReturnType<typeof freshHouse>;

const minuteMs = 60_000;
const dayMs = 86_400_000;

function later(house: TestHouse, ms: number): void {
  house.at = instantOf(Date.parse(house.at) + ms) as Instant;
}

function somebody(house: TestHouse, name = "Ada", role: PersonRole = "gardener"): string {
  return given(addPerson(house, { name, role })).personId;
}

function pairedToken(house: TestHouse, personId: string): string {
  const started = startPairing(house, personId);
  return pairPhone(house, { token: started!.token, device: "Android" })!.token;
}

describe("people", () => {
  it("have a name each, whatever its capitals", () => {
    const house = freshHouse();
    somebody(house, " Ada ");
    expect(addPerson(house, { name: "ada", role: "gardener" })).toMatchObject({
      ok: false,
      faults: [{ place: "name", wanted: "one that nobody here has yet" }],
    });
    expect(addPerson(house, { name: "  ", role: "gardener" })).toMatchObject({ ok: false });
    expect(addPerson(house, { name: "Bram", role: "owner" })).toMatchObject({
      ok: false,
      faults: [{ place: "role" }],
    });
    expect(peopleView(house).people.map(({ name }) => name)).toEqual(["Ada"]);
  });

  it("may come again under a name once its bearer has left, and a leaver's phones are signed out", () => {
    const house = freshHouse();
    const ada = somebody(house);
    nameAtHome(house, ada);
    const token = pairedToken(house, ada);
    partWithPerson(house, ada);
    expect(sessionOf(house, token)).toBeNull();
    expect(peopleView(house).people).toEqual([]);
    expect(askedBy(house, new Headers({ [askedHeaders.listener]: "home" })).person).toBeNull();
    somebody(house);
    expect(sessionOf(house, token)).toBeNull();
  });

  it("one at most is named on the computer at home", () => {
    const house = freshHouse();
    const [ada, bram] = [somebody(house), somebody(house, "Bram")];
    const atHome = () =>
      askedBy(house, new Headers({ [askedHeaders.listener]: "home" })).person?.name ?? null;
    expect(atHome()).toBeNull();
    nameAtHome(house, ada);
    nameAtHome(house, bram);
    expect(atHome()).toBe("Bram");
    nameAtHome(house, null);
    expect(atHome()).toBeNull();
  });
});

it("the field pack says who fetched it, and is another version for another person", () => {
  const house = freshHouse();
  somebody(house);
  const [{ id, name }] = peopleView(house).people;
  const pack = fieldPack(house, contractVersion, { name, role: "gardener" });
  expect(pack.person).toEqual({ name: "Ada", role: "gardener" });
  expect(JSON.stringify(pack)).not.toContain(id);
  const versions = [pack, fieldPack(house), fieldPack(house, contractVersion, { name, role: "weigh only" })];
  expect(new Set(versions.map(({ version }) => version)).size).toBe(3);
});

describe("pairing a phone", () => {
  it("works once, and looking at the code uses nothing up", () => {
    const house = freshHouse();
    const { token } = startPairing(house, somebody(house))!;
    expect(pairingFor(house, token)).toBe("Ada");
    expect(pairingFor(house, token)).toBe("Ada");
    expect(pairPhone(house, { token, device: "iPhone" })).toMatchObject({
      role: "gardener",
      maxAgeS: 400 * 86_400,
    });
    expect(pairPhone(house, { token, device: "iPhone" })).toBeNull();
    expect(pairingFor(house, token)).toBeNull();
    expect(peopleView(house).people[0].sessions).toMatchObject([{ device: "iPhone", by: "pairing" }]);
  });

  it("works for ten minutes", () => {
    const house = freshHouse();
    const { token } = startPairing(house, somebody(house))!;
    later(house, 10 * minuteMs - 1);
    expect(pairingFor(house, token)).toBe("Ada");
    later(house, 1);
    expect(pairingFor(house, token)).toBeNull();
    expect(pairPhone(house, { token, device: "iPhone" })).toBeNull();
  });

  it("is for people of the house who have not left, and never by a token that was not made", () => {
    const house = freshHouse();
    expect(startPairing(house, "0193a1b2-0000-7000-8000-000000000001")).toBeNull();
    const ada = somebody(house);
    const { token } = startPairing(house, ada)!;
    for (const made of ["", "A".repeat(43), `${token}x`]) {
      expect(pairPhone(house, { token: made, device: "iPhone" })).toBeNull();
    }
    partWithPerson(house, ada);
    expect(pairPhone(house, { token, device: "iPhone" })).toBeNull();
  });

  it("leaves no token in the garden's file", () => {
    const house = freshHouse();
    const started = startPairing(house, somebody(house))!;
    const paired = pairPhone(house, { token: started.token, device: "iPhone" })!;
    const { $client } = house.database;
    const kept = JSON.stringify(
      ["pairing", "session"].map((table) => $client.prepare(`SELECT * FROM ${table}`).all()),
    );
    expect(kept).not.toContain(started.token);
    expect(kept).not.toContain(paired.token);
  });
});

describe("a session", () => {
  it("slides for 400 days from its last use on another day, and is told to the phone when it does", () => {
    const house = freshHouse();
    const token = pairedToken(house, somebody(house));
    later(house, dayMs - 1);
    expect(sessionOf(house, token)?.slidS).toBeNull();
    for (let winter = 0; winter < 3; winter += 1) {
      later(house, 399 * dayMs);
      expect(sessionOf(house, token)?.slidS).toBe(400 * 86_400);
    }
    later(house, 400 * dayMs);
    expect(sessionOf(house, token)).toBeNull();
  });

  it("that was ended at home stays ended, in the file too", () => {
    const house = freshHouse();
    const token = pairedToken(house, somebody(house));
    endSession(house, sessionOf(house, token)!.sessionId);
    expect(sessionOf(house, token)).toBeNull();
    expect(() => house.database.$client.prepare("UPDATE session SET ended_at = NULL").run()).toThrow(
      "stays ended",
    );
  });

  it("begun by a passphrase slides for 30 days", async () => {
    const house = freshHouse();
    const ada = somebody(house);
    given(await setPassphrase(house, { personId: ada, passphrase: "moss kettle narrow lamp" }));
    const begun = await signIn(house, {
      name: " ADA ",
      passphrase: "moss kettle narrow lamp ",
      device: "Mac",
    });
    expect(begun?.maxAgeS).toBe(30 * 86_400);
    later(house, 30 * dayMs);
    expect(sessionOf(house, begun!.token)).toBeNull();
  });
});

describe("a passphrase", () => {
  it("opens for its own name only, and no name has one before it is set", async () => {
    const house = freshHouse();
    const [ada, bram] = [somebody(house), somebody(house, "Bram")];
    const tryFor = (name: string, passphrase: string) => signIn(house, { name, passphrase, device: "Mac" });
    expect(await tryFor("Ada", "")).toBeNull();
    given(await setPassphrase(house, { personId: ada, passphrase: "moss kettle narrow lamp" }));
    expect(await tryFor("Ada", "moss kettle narrow lamb")).toBeNull();
    expect(await tryFor("Bram", "moss kettle narrow lamp")).toBeNull();
    expect(await tryFor("Nobody", "moss kettle narrow lamp")).toBeNull();
    expect(await tryFor("Ada", "moss kettle narrow lamp")).not.toBeNull();
    given(await setPassphrase(house, { personId: ada, passphrase: "another one of four" }));
    expect(await tryFor("Ada", "moss kettle narrow lamp")).toBeNull();
    expect(peopleView(house).people.map(({ id, hasPassphrase }) => [id, hasPassphrase])).toEqual([
      [ada, true],
      [bram, false],
    ]);
  });

  it("is twelve letters at least, and is not in the file", async () => {
    const house = freshHouse();
    const ada = somebody(house);
    expect(await setPassphrase(house, { personId: ada, passphrase: "eleven char" })).toMatchObject({
      ok: false,
      faults: [{ place: "passphrase", found: "11 letters", wanted: "12 to 200 letters" }],
    });
    given(await setPassphrase(house, { personId: ada, passphrase: "moss kettle narrow lamp" }));
    const kept = house.database.$client.prepare("SELECT passphrase_hash FROM person").pluck().get();
    expect(kept).toMatch(/^scrypt:32768:8:[\w-]{22}:[\w-]{43}$/);
  });
});

describe("whoever only weighs", () => {
  function weigher() {
    const { house, trial } = houseWithTrial();
    const personId = somebody(house, "Nell", "weigh only");
    const asked = askedBy(
      house,
      new Headers({
        [askedHeaders.listener]: "phone",
        [askedHeaders.person]: personId,
        [askedHeaders.session]: "0193a1b2-0000-7000-8000-000000000002",
      }),
    );
    const send = (...facts: unknown[]) =>
      given(receiveFrom(house, asked, { contract: contractVersion, facts })).replies;
    return { house, asked, send, plotId: trial.plots[0].id };
  }
  const pick = (plotId: string, changes = {}) =>
    someFact(plotId, { kind: "harvest", part: "leaf", amount: 120, unit: "g", ...changes });

  it("sends picks, and the plants cut with them, in any company, each answered at its own place", () => {
    const { send, plotId } = weigher();
    const [loss, grams, cut, count] = [
      someFact(plotId, { kind: "loss", cause: "slugs", amount: 1 }),
      pick(plotId),
      someFact(plotId, { kind: "removed", cause: "cut", amount: 1 }),
      someFact(plotId),
    ];
    const replies = send(loss, grams, cut, count);
    expect(replies.map(({ id, answer }) => [id, answer])).toEqual([
      [loss.id, "later"],
      [grams.id, "recorded"],
      [cut.id, "recorded"],
      [count.id, "later"],
    ]);
    expect(replies[0]).toMatchObject({ why: expect.stringContaining("only to weigh") });
  });

  it("takes back and corrects picks, and no other fact, whether it is home already or comes along", () => {
    const { house, asked, send, plotId } = weigher();
    const home = { ...asked, sessionId: null };
    const loss = someFact(plotId, { kind: "loss", cause: "slugs", amount: 1 });
    const old = pick(plotId);
    receiveFrom(house, home, { contract: contractVersion, facts: [loss, old] });
    const note = "weighed twice";
    const nothing = { amount: null, unit: null, part: null, cause: null };
    const fresh = pick(plotId);
    const facts = [
      someFact(plotId, { ...nothing, kind: "withdrawn", replaces: old.id, note }),
      pick(plotId, { amount: 130, replaces: old.id }),
      fresh,
      someFact(plotId, { ...nothing, kind: "withdrawn", replaces: fresh.id, note }),
      someFact(plotId, { ...nothing, kind: "withdrawn", replaces: loss.id, note }),
      pick(plotId, { replaces: loss.id }),
      pick(plotId, { replaces: "0193a1b2-0000-7000-8000-0000000000ff" }),
    ];
    expect(send(...facts).map(({ answer }) => answer)).toEqual([
      "recorded",
      "recorded",
      "recorded",
      "recorded",
      "later",
      "later",
      "later",
    ]);
  });

  it("is refused for its form what cannot be read, like anybody", () => {
    const { send } = weigher();
    expect(send({}, "no fact").map(({ answer }) => answer)).toEqual(["refused", "refused"]);
  });
});
