import { randomUUID } from "node:crypto";
import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import type { FieldPack } from "@/lib/sync/field-pack";
import { aMomentLater, homeInTest, openField, twoBeds } from "./home-in-test";
import { expect, test } from "./site";

test.use({ filling: "demo" });

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .options({ rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } } })
    .analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
}

const button = (page: Page, name: string | RegExp) => page.getByRole("button", { name, exact: true });
const plotHeading = (page: Page, code: string) => page.getByRole("heading", { level: 1, name: code });
const line = (page: Page, code: string) => page.getByRole("listitem").filter({ hasText: code });

async function openScale(page: Page, pack = twoBeds()) {
  const home = await homeInTest(page, pack);
  await openField(page, "/weigh-in", "Who is weighing?");
  await expectClean(page);
  await page.getByRole("button", { name: /mustard greens/ }).click();
  return home;
}

test("weights as they are said, nothing to pick and not picked, plot by plot in walking order", async ({
  page,
}) => {
  const home = await openScale(page);
  await expect(plotHeading(page, "A1")).toBeVisible();
  await expectClean(page);
  const weight = page.getByLabel("Weight in grams, or such as 1,2 kg");
  for (const [code, typed, next] of [
    ["A1", "450", "A2"],
    ["A2", "450 g", "A3"],
    ["A3", "1,2 kg", "A4"],
  ]) {
    await weight.fill(typed);
    await weight.press("Enter");
    await expect(plotHeading(page, next)).toBeVisible();
    await expect(line(page, code)).toBeVisible();
    await aMomentLater(page);
  }
  await button(page, "Nothing to pick").click();
  await expect(plotHeading(page, "A5")).toBeVisible();
  await aMomentLater(page);
  await button(page, "Not picked").click();
  await expect(plotHeading(page, "B1")).toBeVisible();
  for (const key of ["9", "8", ",", "5"]) await button(page, key).click();
  await expect(page.getByText("That is 99 g.")).toBeVisible();
  await button(page, "Wipe the last sign").click();
  await button(page, "Wipe the last sign").click();
  await button(page, "Write it down").click();
  await expect(plotHeading(page, "B2")).toBeVisible();
  await expect(line(page, "B1")).toContainText("98 g");
  await expect
    .poll(() => home.of("harvest").map((fact) => [fact.plotId, fact.amount, fact.unit]))
    .toEqual([
      ["A1", 450, "g"],
      ["A2", 450, "g"],
      ["A3", 1200, "g"],
      ["A4", 0, "g"],
      ["A5", null, "g"],
      ["B1", 98, "g"],
    ]);
  expect(home.of("harvest").every((fact) => fact.part === "leaf" && fact.seenOn === "2027-01-14")).toBe(true);
  await expectClean(page);
  expect(
    await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
  ).toBeLessThanOrEqual(0);
});

test("a weight that cannot be read is named, and what was typed stays", async ({ page }) => {
  const home = await openScale(page);
  const weight = page.getByLabel("Weight in grams, or such as 1,2 kg");
  for (const [typed, said] of [
    ["", "Enter a weight, or say that there was nothing to pick."],
    ["plenty", "it is plenty."],
    ["-4", "it is -4."],
    ["1,200", "it is 1,200."],
    ["9999999", "it is 9999999."],
  ]) {
    await weight.fill(typed);
    await button(page, "Write it down").click();
    await expect(page.locator("main").getByRole("alert")).toContainText(said);
    await expect(weight).toHaveValue(typed);
    await aMomentLater(page);
  }
  await expectClean(page);
  expect(home.kept.size).toBe(0);
});

test("what is written down can be changed and taken back; both stay in the history", async ({ page }) => {
  const home = await openScale(page);
  const weight = page.getByLabel("Weight in grams, or such as 1,2 kg");
  await weight.fill("450");
  await button(page, "Write it down").click();
  await button(page, "Change A1").click();
  await expect(weight).toHaveValue("450");
  await weight.fill("540");
  await button(page, "Put it right").click();
  await expect(line(page, "A1")).toContainText("540 g");
  await expect(line(page, "A1")).toHaveCount(1);
  await button(page, "Take back A1").click();
  await expect(line(page, "A1")).toHaveCount(0);
  await expect(plotHeading(page, "A1")).toBeVisible();
  await expect.poll(() => home.facts().length).toBe(3);
  const [first, corrected, withdrawn] = home.facts();
  expect(corrected).toMatchObject({ kind: "harvest", amount: 540, replaces: first.id });
  expect(withdrawn).toMatchObject({
    kind: "withdrawn",
    replaces: corrected.id,
    note: "taken back at the scale",
  });
});

test("heads are booked by number, grams and removal in one act; more than stood is said", async ({
  page,
}) => {
  const home = await openScale(page);
  await page.getByRole("button", { name: /: change$/ }).click();
  await expectClean(page);
  await button(page, "head").click();
  await aMomentLater(page);
  const weight = page.getByLabel("Weight in grams, or such as 1,2 kg");
  await weight.fill("900");
  await button(page, "Write it down").click();
  await expect(page.locator("main").getByRole("alert")).toContainText("Enter how many were taken.");
  for (let head = 0; head < 4; head++) await button(page, "One plant more").click();
  await aMomentLater(page);
  await button(page, "Write it down").click();
  await expect(
    page.getByText("The record says 3 stood, you took 4: both are kept, to be settled."),
  ).toBeVisible();
  await expect
    .poll(() => home.facts().map((fact) => [fact.kind, fact.amount, fact.unit, fact.cause]))
    .toEqual([
      ["harvest", 900, "g", null],
      ["harvest", 4, "count", null],
      ["removed", 4, "plants", "cut"],
    ]);
  expect(new Set(home.facts().map((fact) => fact.recordedAt)).size).toBe(1);
});

test("the day can be another one, never a day to come", async ({ page }) => {
  const home = await openScale(page);
  await page.getByRole("button", { name: /: change$/ }).click();
  const day = page.getByLabel("Another day, such as 14 Mar 2027");
  await day.fill("31 Feb 2027");
  await button(page, "Use that day").click();
  await expect(page.getByRole("dialog").getByRole("alert")).toContainText("it is 31 Feb 2027.");
  await day.fill("15 Jan 2027");
  await aMomentLater(page);
  await button(page, "Use that day").click();
  await expect(page.getByText("The day must be today or earlier.")).toBeVisible();
  await page.getByRole("button", { name: /^Yesterday/ }).click();
  await expect(page.getByRole("button", { name: /picked Wed 13 Jan/ })).toBeVisible();
  await aMomentLater(page);
  await button(page, "Nothing to pick").click();
  await expect.poll(() => home.of("harvest").map((fact) => fact.seenOn)).toEqual(["2027-01-13"]);
});

test("without a signal the weights stay on the phone and a weigh-in goes on where it stopped", async ({
  page,
}) => {
  const home = await openScale(page);
  home.signal = "none";
  await page.getByLabel("Weight in grams, or such as 1,2 kg").fill("300");
  await button(page, "Write it down").click();
  await expect(plotHeading(page, "A2")).toBeVisible();
  await page.reload();
  await expect(plotHeading(page, "A2")).toBeVisible();
  await expect(page.getByRole("button", { name: /1 fact on this phone only/ })).toBeVisible();
  await expect(line(page, "A1")).toContainText("300 g");
  home.signal = "well";
  await page.evaluate(() => dispatchEvent(new Event("online")));
  await expect(page.getByRole("button", { name: /Everything is home/ })).toBeVisible();
  expect(home.of("harvest")).toHaveLength(1);
});

test("where nobody said what is picked, it is asked and nothing is chosen beforehand", async ({ page }) => {
  const pack = twoBeds();
  await openScale(page, { ...pack, trials: pack.trials.map((trial) => ({ ...trial, parts: [] })) });
  await expect(page.getByRole("heading", { name: "What is picked?" })).toBeVisible();
  await button(page, "green stem").click();
  await expect(
    page.getByRole("button", { name: /mustard greens, green stem, picked Thu 14 Jan/ }),
  ).toBeVisible();
});

test("a weight from the demo garden reaches the real home", async ({ page, request }) => {
  await page.clock.install();
  await page.goto("/weigh-in");
  const name = `Rowan ${randomUUID().slice(0, 8)}`;
  await page.getByLabel("Who is weighing?").fill(name);
  await button(page, "That is me").click();
  await expect(button(page, "That is me")).toHaveCount(0);
  await aMomentLater(page);
  await page.getByRole("main").getByRole("list").getByRole("button").first().click();
  const asked = page.getByRole("heading", { name: "What is picked?" });
  await expect(asked.or(page.getByLabel("Weight in grams, or such as 1,2 kg"))).toBeVisible();
  if (await asked.isVisible()) await button(page, "leaf").click();
  await page.getByLabel("Weight in grams, or such as 1,2 kg").fill("0,35 kg");
  await button(page, "Write it down").click();
  await expect(page.getByRole("status")).toContainText("350 g. On this phone.");
  await expect(page.getByRole("button", { name: /Everything is home/ })).toBeVisible();
  const pack = (await (await request.get("/api/field-pack")).json()) as FieldPack;
  const mine = pack.facts.filter((fact) => fact.by === name);
  expect(mine).toMatchObject([{ kind: "harvest", amount: 350, unit: "g" }]);
});
