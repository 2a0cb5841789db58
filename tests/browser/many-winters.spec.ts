import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { expect, test } from "./site";

test.use({ filling: "demo" });

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
}

async function expectNothingCutOff(page: Page): Promise<void> {
  const width = page.viewportSize()?.width ?? 0;
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
}

async function openReport(page: Page): Promise<void> {
  await page.goto("/trials");
  await page.getByRole("link", { name: /mustard greens stand the winter under the low tunnel/ }).click();
  await page.getByRole("navigation", { name: "This trial" }).getByRole("link", { name: "Report" }).click();
  await expect(page.getByRole("heading", { name: "The answer" })).toBeVisible();
}

test("the trials stand season by season, each with its answer, how sure it is and what is owed", async ({
  page,
}) => {
  await page.goto("/trials");
  await expect(page.getByRole("heading", { name: /^Season 20/ })).toHaveText([
    "Season 2026/27",
    "Season 2025/26",
    "Season 2024/25",
  ]);
  await expect(page.getByText(/^Thornlea stood clearly worse than the check Pennick/)).toBeVisible();
  await expect(
    page.getByText(/each variety’s share is known to about \d+ in a hundred either way/).first(),
  ).toBeVisible();
  await expectNothingCutOff(page);
  await expectClean(page);
  await page.getByRole("link", { name: "One verdict is still to be given." }).click();
  await expect(page).toHaveURL(/\/verdict$/);
});

test("claim stands beside proof in the list, and a variety's page sets its winters one below another", async ({
  page,
}) => {
  await page.goto("/varieties");
  await expect(
    page.getByText(/^Says: “Very hardy, large leaves”\. Here: \d+ %, \d+ to \d+, one winter, under/),
  ).toBeVisible();
  await expectNothingCutOff(page);
  await expectClean(page);
  await page.getByRole("link", { name: "Hollin" }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Hollin" })).toBeVisible();
  await expect(page.getByText(/2026\/27 as of .* it does not count yet\./)).toBeVisible();
  await expect(page.getByText("One winter; the spread between winters is assumed, not seen.")).toBeVisible();
  await expect(page.getByText(/^In another winter the survival floor of 60 in a hundred/)).toBeVisible();
  await expect(
    page.getByRole("table", { name: /^Each winter, all together and another/ }).getByRole("row"),
  ).toHaveCount(4);
  await expect(page.getByText(/^try once more, decided on Sun 3 May 2026 by Ina/i)).toBeVisible();
  await page.getByText("Show the working").first().click();
  await expect(page.getByText(/With a prior scale of 0\.5/)).toBeVisible();
  await expectNothingCutOff(page);
  await expectClean(page);
});

test("the report holds question, answer, verdicts, methods and the data, and gives itself as a message", async ({
  page,
}) => {
  await openReport(page);
  for (const title of [
    "What was done",
    "What stood",
    "What was lost",
    "What it yielded",
    "Verdicts",
    "Methods",
  ])
    await expect(page.getByRole("heading", { name: title, exact: true })).toBeVisible();
  await expect(page.getByRole("table", { name: /^Every plot/ }).getByRole("row")).toHaveCount(21);
  await expectNothingCutOff(page);
  await expectClean(page);
  await page.getByRole("button", { name: "Copy" }).click();
  await expect(page.getByRole("status")).toHaveText(/^(Copied|The text is selected)/);
  const selected = await page
    .getByLabel("The report as a message")
    .evaluate((area: HTMLTextAreaElement) => area.value.slice(area.selectionStart, area.selectionEnd));
  expect(selected).toMatch(/^Which of these mustard greens.*Beware: /s);
});

test("the report prints on two to four pages, A4 and Letter", async ({ page }) => {
  await openReport(page);
  for (const format of ["A4", "Letter"] as const) {
    const pdf = await page.pdf({ format });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length ?? 0;
    expect(pages).toBeGreaterThanOrEqual(2);
    expect(pages).toBeLessThanOrEqual(4);
  }
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("navigation", { name: "This trial" })).toBeHidden();
  await expect(page.getByRole("button", { name: "Copy" })).toBeHidden();
});
