import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import type { BrowserContext, Page } from "@playwright/test";
import Sqlite from "better-sqlite3";
import { contractVersion } from "@/lib/sync/contract";
import type { FieldPack } from "@/lib/sync/field-pack";
import { aMomentLater } from "./home-in-test";
import { expect, type Site, test } from "./site";
import { layWire, type Wire } from "./wire";

test.use({ filling: "demo", serviceWorkers: "allow" });

/** The facts that a person recorded, as they are kept at home. */
function atHome(site: Site, by: string): { id: string; kind: string }[] {
  const file = new Sqlite(join(site.dataFolder, "garden.sqlite"), { readonly: true });
  try {
    return file.prepare('SELECT id, kind FROM observation WHERE "by" = ?').all(by) as never;
  } finally {
    file.close();
  }
}

const strip = (page: Page) => page.getByRole("button", { name: /on this phone only|Everything is home/ });
const standing = (page: Page) => page.getByRole("button", { name: /, plant \d+, standing/ });

async function open(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.clock.install();
  await page.goto(address);
  return page;
}

/** Opens the walkabout for the first time, where home can be reached, and waits until the phone keeps it. */
async function firstTime(context: BrowserContext, wire: Wire, by: string): Promise<Page> {
  const page = await open(context, `${wire.url}/walkabout`);
  await page.getByLabel("Who is walking?").fill(by);
  await page.getByRole("button", { name: "That is me" }).click();
  await expect(strip(page)).toContainText("Everything is home.");
  await page.waitForFunction(async () => {
    const { active } = await navigator.serviceWorker.ready;
    return active?.state === "activated" && navigator.serviceWorker.controller !== null;
  });
  return page;
}

async function toTrialBed(page: Page, bed: string): Promise<void> {
  await page.getByRole("button", { name: /^Bed \d+ of \d+$/ }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: new RegExp(`^${bed}`) })
    .click();
  await expect(page.getByRole("heading", { name: bed })).toBeVisible();
  await aMomentLater(page);
}

async function lose(page: Page, cause: string): Promise<void> {
  await standing(page).first().click();
  await aMomentLater(page);
  await page.getByRole("dialog").getByRole("button", { name: cause, exact: true }).last().click();
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await aMomentLater(page);
}

async function endRound(page: Page): Promise<void> {
  await page.getByRole("button", { name: /^Bed \d+ of \d+$/ }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /End the round/ })
    .click();
  await aMomentLater(page);
  await page.getByRole("button", { name: "Yes, all of them", exact: true }).click();
  await expect(page.getByRole("heading", { name: /Round ended/ })).toBeVisible();
}

/** Whether a version waits and whether the page is served by the one in use; nothing while the page is being loaded. */
function versionOf(page: Page) {
  return page
    .evaluate(async () => {
      const { waiting, active } = await navigator.serviceWorker.ready;
      return { waits: waiting !== null, served: navigator.serviceWorker.controller === active };
    })
    .catch(() => null);
}

async function aNewerVersionWaits(page: Page, wire: Wire): Promise<void> {
  wire.workerVersion += "the next one ";
  await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
  await expect.poll(() => versionOf(page)).toMatchObject({ waits: true });
}

async function trialBed(wire: Wire): Promise<string> {
  const answer = await fetch(`${wire.url}/api/field-pack?contract=${contractVersion}`);
  const pack = (await answer.json()) as FieldPack;
  return pack.beds.find((bed) => bed.plots.length > 0)!.name;
}

test("with home switched off the app opens cold, a bed is walked, closed, opened and gone on with; then all arrives once", async ({
  context,
  site,
}) => {
  const wire = await layWire(site.url);
  const bed = await trialBed(wire);
  await (await firstTime(context, wire, "Ivy")).close();

  await wire.cut();
  const cold = await open(context, `${wire.url}/walkabout`);
  await expect(strip(cold)).toContainText("No signal.");
  await toTrialBed(cold, bed);
  await lose(cold, "slugs");
  await lose(cold, "cold");
  await expect(strip(cold)).toContainText("2 facts on this phone only");
  await cold.close();

  await context.setOffline(true);
  const again = await open(context, `${wire.url}/walkabout`);
  await expect(again.getByRole("heading", { name: bed })).toBeVisible();
  await expect(strip(again)).toContainText("2 facts on this phone only");
  await lose(again, "slugs");
  await again.getByRole("button", { name: "The rest stand", exact: true }).click();
  await expect(strip(again)).toContainText("on this phone only");
  expect(atHome(site, "Ivy")).toEqual([]);

  await again.goto(`${wire.url}/trials`);
  await expect(again.getByText("Home cannot be reached, and only home has that page.")).toBeVisible();
  await expect(again).toHaveURL(`${wire.url}/walkabout`);
  const { violations } = await new AxeBuilder({ page: again }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await again.getByRole("link", { name: "Weigh-in" }).click();
  await expect(again.getByRole("heading", { name: "Weigh-in" })).toBeVisible();
  await again.close();

  await context.setOffline(false);
  await wire.mend();
  const back = await open(context, `${wire.url}/walkabout`);
  await expect(strip(back)).toContainText("Everything is home.");
  const kept = atHome(site, "Ivy");
  expect(kept.filter(({ kind }) => kind === "loss")).toHaveLength(3);
  expect(kept.length).toBeGreaterThan(3);
  await back.reload();
  await expect(strip(back)).toContainText("Everything is home.");
  expect(atHome(site, "Ivy")).toEqual(kept);
  await back.goto(`${wire.url}/trials`);
  await expect(back.getByRole("heading", { level: 1 })).toHaveText("Trials");
  await wire.cut();
});

test("a newer version waits while a walk is open, is used by a tap when nothing is, and drops nothing that waits to be sent", async ({
  context,
  site,
}) => {
  const wire = await layWire(site.url);
  const bed = await trialBed(wire);
  const page = await firstTime(context, wire, "Bram");
  await context.route("**/api/observations", (route) => route.fulfill({ status: 500, body: "" }));
  await toTrialBed(page, bed);
  await lose(page, "slugs");
  await expect(strip(page)).toContainText("1 fact on this phone only");

  await aNewerVersionWaits(page, wire);
  const use = page.getByRole("button", { name: "Use the new version" });
  await expect(use).toHaveCount(0);
  await page.reload();
  await expect(page.getByRole("heading", { name: bed })).toBeVisible();
  expect(await versionOf(page)).toMatchObject({ waits: true });

  await endRound(page);
  await use.click();
  await expect.poll(() => versionOf(page)).toMatchObject({ waits: false });
  await expect(strip(page)).toContainText("1 fact on this phone only");

  await context.unroute("**/api/observations");
  await page.reload();
  await expect(strip(page)).toContainText("Everything is home.");
  expect(atHome(site, "Bram").map(({ kind }) => kind)).toEqual(["loss"]);
  await wire.cut();
});

test("a newer version that waited while a walk was open is taken by itself at the next opening without one, and no fact is lost", async ({
  context,
  site,
}) => {
  const wire = await layWire(site.url);
  const bed = await trialBed(wire);
  const page = await firstTime(context, wire, "Wren");
  await context.route("**/api/observations", (route) => route.fulfill({ status: 500, body: "" }));
  await toTrialBed(page, bed);
  await lose(page, "slugs");
  await expect(strip(page)).toContainText("1 fact on this phone only");
  await aNewerVersionWaits(page, wire);

  const meanwhile = await open(context, `${wire.url}/walkabout`);
  await expect(meanwhile.getByRole("heading", { name: bed })).toBeVisible();
  expect(await versionOf(meanwhile)).toMatchObject({ waits: true });
  await meanwhile.close();

  await endRound(page);
  expect(await versionOf(page)).toMatchObject({ waits: true });
  // The first tab stays open: without it the browser itself would let the newer version in.
  const next = await open(context, `${wire.url}/walkabout`);
  await expect.poll(() => versionOf(next)).toEqual({ waits: false, served: true });
  await expect(next.getByRole("heading", { name: /Round ended/ })).toBeVisible();
  await expect(strip(next)).toContainText("1 fact on this phone only");
  await expect(page.getByRole("heading", { name: /Round ended/ })).toBeVisible();

  await context.unroute("**/api/observations");
  await next.reload();
  await expect(strip(next)).toContainText("Everything is home.");
  expect(atHome(site, "Wren").map(({ kind }) => kind)).toEqual(["loss"]);
  await wire.cut();
});
