import type { Page } from "@playwright/test";
import type { Batch, FactReply } from "@/lib/sync/contract";
import type { FieldBed, FieldPack, FieldPlot } from "@/lib/sync/field-pack";
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
    causes: [...causes],
  };
}

export type Signal = "well" | "none" | "down" | "refuses";

/**
 * Home as a phone sees it, with a signal that a test can turn: it answers the two routes by the contract and keeps what
 * it took, so that a test can say what arrived and how often. Every fact must be whole.
 */
export async function homeInTest(page: Page, pack: FieldPack = twoBeds()) {
  const home = {
    signal: "well" as Signal,
    /** Everything sent, resent facts too. */
    sent: [] as Observation[],
    kept: new Map<string, Observation>(),
    /** Facts in the order in which the phone made them. */
    facts: () => [...home.kept.values()].sort((one, other) => one.deviceSequence - other.deviceSequence),
    of: (kind: Observation["kind"]) => home.facts().filter((fact) => fact.kind === kind),
  };
  await page.context().route("**/api/field-pack", async (route) => {
    if (home.signal === "none") return route.abort("internetdisconnected");
    if (home.signal === "down") return route.fulfill({ status: 500, body: "" });
    const version = `${home.kept.size}`;
    if (route.request().headers()["if-none-match"] === `"${version}"`) return route.fulfill({ status: 304 });
    return route.fulfill({
      json: { ...pack, version, facts: [...pack.facts, ...home.facts()] },
      headers: { etag: `"${version}"` },
    });
  });
  await page.context().route("**/api/observations", async (route) => {
    if (home.signal === "none") return route.abort("internetdisconnected");
    if (home.signal === "down") return route.fulfill({ status: 500, body: "" });
    const batch = route.request().postDataJSON() as Batch;
    const replies = batch.facts.map((fact): FactReply => {
      const form = observationSchema.safeParse(fact);
      const misfit = form.success ? observationMisfit(fact) : { field: "form", wanted: "a whole fact" };
      if (misfit) throw new Error(`${fact.kind} does not fit: ${misfit.field} wants ${misfit.wanted}`);
      home.sent.push(fact);
      if (home.signal === "refuses")
        return {
          id: fact.id,
          answer: "refused",
          place: "plotId",
          found: fact.plotId,
          wanted: "a plot of this garden",
        };
      const already = home.kept.has(fact.id);
      home.kept.set(fact.id, fact);
      return { id: fact.id, answer: already ? "already" : "recorded" };
    });
    return route.fulfill({ json: { contract: 1, serverTime: walkMoment.toISOString(), replies } });
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
