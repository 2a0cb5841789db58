import type { Page } from "@playwright/test";
import { type Batch, contractVersion, type FactReply } from "@/lib/sync/contract";
import type { FieldBed, FieldPack, FieldPlot } from "@/lib/sync/field-pack";
import { type BedFact, type Fact, isBedFact } from "@/lib/words/bed-fact";
import { bedFactMisfit, bedFactSchema } from "@/lib/words/bed-fact-schema";
import { causes } from "@/lib/words/cause";
import type { Day } from "@/lib/words/day";
import { type Observation, observationMisfit, observationSchema } from "@/lib/words/observation";

export const walkDay = "2027-01-14" as Day;
/** Ten in the morning of the walk. */
export const walkMoment = new Date("2027-01-14T10:00:00Z");

const varieties = ["Hollin", "Pennick", "Carrow", "Tansy Mill", "Wick Hill"];
const plantedOn = "2026-10-01" as Day;

function bedOf(name: string, letters: string, covers: string[]): FieldBed {
  const plots = [...letters].flatMap((letter, block) =>
    varieties.map((variety, position): FieldPlot => {
      const line = block * varieties.length + position;
      return {
        id: `${letter}${position + 1}`,
        trialId: "mustard",
        code: `${letter}${position + 1}`,
        variety,
        plants: 3,
        plantRows: 3,
        xMm: 150,
        yMm: line * 300,
        widthMm: 900,
        lengthMm: 300,
        plantedOn,
      };
    }),
  );
  return { id: name, name, widthMm: 1200, lengthMm: 4800, covers, plots };
}

/** Two beds with thirty plots of three plants, under fleece. */
export function twoBeds(): FieldPack {
  return {
    version: "1",
    gardenName: "Hazel Clough",
    timeZone: "Europe/London",
    today: walkDay,
    beds: [bedOf("Long bed", "ABC", ["Big fleece"]), bedOf("Wall bed", "DEF", ["Big fleece"])],
    trials: [
      {
        id: "mustard",
        question: "Which mustard greens stand the winter under fleece?",
        crop: "mustard greens",
        plantedOn,
        clearBy: null,
        assessments: [
          { name: "took", dueOn: "2026-10-20" as Day },
          { name: "regrowth", dueOn: "2027-04-20" as Day },
        ],
        traits: ["cold damage"],
        parts: ["leaf"],
      },
    ],
    facts: [],
    bedFacts: [],
    bedFactsSince: "2026-10-01" as Day,
    causes: [...causes],
  };
}

/** Why a fact is not whole, in the words of its own schema; null when it is. */
function misfitOf(fact: Fact): string | null {
  if (isBedFact(fact)) {
    if (!bedFactSchema.safeParse(fact).success) return "a whole fact of a bed";
    return bedFactMisfit(fact)?.wanted ?? null;
  }
  if (!observationSchema.safeParse(fact).success) return "a whole fact";
  return observationMisfit(fact)?.wanted ?? null;
}

export type Signal = "well" | "none" | "down" | "refuses";

/**
 * Home as a phone sees it, with a signal that a test can turn: it answers the two routes by the contract and keeps what
 * it took, so that a test can say what arrived and how often. Every fact must be whole.
 */
export async function homeInTest(page: Page, pack: FieldPack = twoBeds()) {
  const home = {
    signal: "well" as Signal,
    /** By how much the phone's clock is ahead of home's. */
    phoneAheadMs: 0,
    /** Everything sent, resent facts too. */
    sent: [] as Fact[],
    kept: new Map<string, Fact>(),
    /** Names of the pictures that arrived, with their bytes. */
    pictures: new Map<string, Buffer>(),
    inOrder: () => [...home.kept.values()].sort((one, other) => one.deviceSequence - other.deviceSequence),
    /** Facts of plots in the order in which the phone made them. */
    facts: () => home.inOrder().filter((fact): fact is Observation => !isBedFact(fact)),
    /** Facts of beds in that order. */
    bedFacts: () => home.inOrder().filter((fact): fact is BedFact => isBedFact(fact)),
    of: (kind: Observation["kind"]) => home.facts().filter((fact) => fact.kind === kind),
  };
  await page.context().route("**/api/field-pack?*", async (route) => {
    if (home.signal === "none") return route.abort("internetdisconnected");
    if (home.signal === "down") return route.fulfill({ status: 500, body: "" });
    const version = `${home.kept.size}`;
    const headers: Record<string, string> = { etag: `"${version}"` };
    if (home.phoneAheadMs !== 0) headers.date = walkMoment.toUTCString();
    if (route.request().headers()["if-none-match"] === `"${version}"`)
      return route.fulfill({ status: 304, headers });
    return route.fulfill({
      json: {
        ...pack,
        version,
        facts: [...pack.facts, ...home.facts()],
        bedFacts: [...pack.bedFacts, ...home.bedFacts()],
      },
      headers,
    });
  });
  await page.context().route("**/api/observations", async (route) => {
    if (home.signal === "none") return route.abort("internetdisconnected");
    if (home.signal === "down") return route.fulfill({ status: 500, body: "" });
    const batch = route.request().postDataJSON() as Batch;
    const replies = batch.facts.map((fact): FactReply => {
      const misfit = misfitOf(fact);
      if (misfit) throw new Error(`${fact.kind} does not fit: wanted ${misfit}`);
      home.sent.push(fact);
      if (home.signal === "refuses")
        return {
          id: fact.id,
          answer: "refused",
          place: "plotId",
          found: isBedFact(fact) ? fact.bedId : fact.plotId,
          wanted: "a plot of this garden",
        };
      const already = home.kept.has(fact.id);
      home.kept.set(fact.id, fact);
      return { id: fact.id, answer: already ? "already" : "recorded" };
    });
    // As home's clock would say at once after the last fact was made.
    const serverTime = new Date(Date.parse(batch.facts.at(-1)?.recordedAt ?? "") - home.phoneAheadMs);
    return route.fulfill({
      json: { contract: contractVersion, serverTime: serverTime.toISOString(), replies },
    });
  });
  await page.context().route("**/api/picture/*", async (route) => {
    if (home.signal === "none") return route.abort("internetdisconnected");
    if (home.signal === "down") return route.fulfill({ status: 500, body: "" });
    const name = new URL(route.request().url()).pathname.split("/").at(-1) ?? "";
    home.pictures.set(name, route.request().postDataBuffer() ?? Buffer.alloc(0));
    return route.fulfill({ json: { answer: "recorded" } });
  });
  return home;
}

/** Opens a field screen on the day of the walk and says who records. */
export async function openField(
  page: Page,
  path: "/walkabout" | "/weigh-in",
  question: string,
): Promise<void> {
  await page.clock.install({ time: walkMoment });
  await page.goto(path);
  await page.getByLabel(question).fill("Ivy");
  await page.getByRole("button", { name: "That is me" }).click();
  await page.getByRole("button", { name: "That is me" }).waitFor({ state: "detached" });
  await aMomentLater(page);
}

/** Lets the moment pass in which a second tap on the same spot counts as the echo of the first. */
export async function aMomentLater(page: Page): Promise<void> {
  await page.clock.fastForward(1_000);
}
