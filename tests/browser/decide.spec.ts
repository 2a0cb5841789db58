import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { expect, test } from "./site";

test.use({ filling: "demo" });

const question = /mustard greens stand the winter under the low tunnel/;

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
}

async function openTrial(page: Page, place: "Results" | "Verdict"): Promise<void> {
  await page.goto("/trials");
  await page.getByRole("link", { name: question }).click();
  await page.getByRole("navigation", { name: "This trial" }).getByRole("link", { name: place }).click();
  await expect(
    page.getByRole("navigation", { name: "This trial" }).getByRole("link", { name: place }),
  ).toHaveAttribute("aria-current", "page");
}

async function openEveryWorking(page: Page): Promise<void> {
  const closed = page.locator("details:not([open]) > summary");
  while ((await closed.count()) > 0) await closed.first().click();
}

test("the results say in words what stood, with a figure, its table and the working behind", async ({
  page,
}) => {
  await openTrial(page, "Results");
  await expect(page.getByRole("heading", { name: "What the bed says" })).toBeVisible();
  await expect(
    page.getByText(/^Thornlea: 2 of 24 stood; somewhere between \d+ and \d+ in a hundred/),
  ).toBeVisible();
  await expect(page.getByText(/^No clear difference between Hollin and Pennick/)).toBeVisible();
  await expect(page.getByRole("img", { name: /^Stood on/ }).first()).toBeVisible();
  await expect(page.getByRole("table", { name: /^Stood on/ })).toBeVisible();
  await expect(page.getByText(/no difference/i)).toHaveCount(0);
  await expectClean(page);
});

test("the working of every result is one click away, and whole", async ({ page }) => {
  await openTrial(page, "Results");
  await openEveryWorking(page);
  await expect(page.getByRole("table", { name: /luck of the draw/ }).first()).toBeVisible({
    timeout: 30_000,
  });
  await expect(page.getByRole("table", { name: "Analysis of variance" })).toBeVisible();
  await expect(page.getByText(/Wilson \(1927\)/).first()).toBeVisible();
  await expectClean(page);
});

test("every drawing fits the page and stands once for a reader, wide or narrow", async ({ page }) => {
  await openTrial(page, "Results");
  const images = page.getByRole("img");
  const seen = await images.count();
  const width = page.viewportSize()?.width ?? 0;
  for (let place = 0; place < seen; place += 1) {
    const box = await images.nth(place).boundingBox();
    if (box) expect(box.x + box.width).toBeLessThanOrEqual(width + 1);
  }
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
  const names = await page.evaluate(() =>
    [...document.querySelectorAll("svg[role=img]")]
      .filter((drawing) => drawing.getClientRects().length > 0)
      .map((drawing) => drawing.querySelector("title")?.textContent),
  );
  expect(new Set(names).size).toBe(names.length);
});

test("an earlier day and another measure of yield are one choice away and stay in the address", async ({
  page,
}) => {
  await openTrial(page, "Results");
  await page.getByLabel("As of").selectOption({ label: "Sat 3 Jan 2026" });
  await page.getByLabel("Yield", { exact: true }).selectOption("per square metre");
  await page.getByRole("button", { name: "Show" }).click();
  await expect(page).toHaveURL(/at=2026-01-03.*per=m2/);
  await expect(page.getByText(/^As of Sat 3 Jan 2026/)).toBeVisible();
  await expect(page.getByText(/g a square metre over/).first()).toBeVisible();
});

test("a plot can be left out to see what the answer becomes, which is said before all else", async ({
  page,
}) => {
  await openTrial(page, "Results");
  await page.getByLabel("Plots", { exact: true }).selectOption({ label: "without A1, Tansy Mill" });
  await page.getByRole("button", { name: "Show" }).click();
  await expect(page).toHaveURL(/without=A1/);
  await expect(page.getByText("Plot A1 (Tansy Mill) is left out.")).toBeVisible();
  await expect(page.getByText(/^As of .*Tansy Mill and Thornlea stood clearly worse/)).toBeVisible();
  await expectClean(page);
  await page.getByRole("link", { name: "Back to the whole trial" }).click();
  await expect(page).not.toHaveURL(/without/);
});

test("figures and the R script come as files that stand alone", async ({ page, request }) => {
  await openTrial(page, "Results");
  const read = async (name: RegExp) => {
    const address = await page.getByRole("link", { name }).first().getAttribute("href");
    return (await request.get(address ?? "")).text();
  };
  const drawing = await read(/^Standing from .* as a drawing, SVG/);
  expect(drawing).toContain("<title>Standing from");
  expect(drawing).toContain("data:font/woff2;base64,");
  expect(drawing).not.toContain("var(");
  expect(await read(/^The R script/)).toContain("plots <- data.frame(");
  const saved = page.waitForEvent("download");
  await page.getByRole("button", { name: /^Standing from .* as a picture, PNG/ }).click();
  expect((await saved).suggestedFilename()).toMatch(/^Standing-from-.*\.png$/);
});

test("harvest over time can be explored by keyboard, and its figures are there without it", async ({
  page,
}) => {
  await openTrial(page, "Results");
  await expect(page.getByRole("table", { name: "Grams a plot on each trial pick" })).toBeVisible();
  const each = page.getByLabel("each pick");
  await each.focus();
  await page.keyboard.press("Space");
  await expect(each).toBeChecked();
  await page.getByLabel("Thornlea", { exact: true }).uncheck();
  await expect(page.locator(".recharts-line")).toHaveCount(4);
});

test("a verdict is a person's: nothing is chosen beforehand, what is missing is asked for, nothing typed is lost", async ({
  page,
}) => {
  await openTrial(page, "Verdict");
  await expectClean(page);
  const pennick = page.getByRole("region", { name: "Pennick" });
  await expect(
    pennick.getByText(/^Pennick: the rule proposes “try once more”.*first winter here/),
  ).toBeVisible();
  await expect(pennick.getByRole("radio", { checked: true })).toHaveCount(0);
  await expect(pennick.getByRole("link", { name: "All that is known of Pennick" })).toHaveAttribute(
    "href",
    /^\/varieties\//,
  );
  const why = "Tough leaves in March <b>but</b> it kept going.";
  await pennick.getByLabel("Why?").fill(why);
  await pennick.getByRole("button", { name: "Write the verdict down" }).click();
  const summary = page.getByRole("alert").filter({ hasText: "to mend" });
  await expect(summary).toContainText("Choose a verdict");
  await expect(pennick.getByLabel("Why?")).toHaveValue(why);
  await summary.getByRole("link", { name: /Choose a verdict/ }).click();
  await page.keyboard.press("Space");
  await pennick.getByRole("radio", { name: "Try once more" }).check();
  await pennick.getByRole("button", { name: "Write the verdict down" }).click();
  await expect(pennick.getByText(/^try once more, decided on/i)).toBeVisible();
  await expect(pennick.getByText(why)).toBeVisible();
});

test("deciding goes by keyboard alone, and a later verdict leaves the earlier one to be read", async ({
  page,
}) => {
  await openTrial(page, "Verdict");
  const tansyMill = page.getByRole("region", { name: "Tansy Mill" });
  const decide = async (choice: string, reason: string) => {
    await tansyMill.getByRole("radio", { name: choice }).focus();
    await page.keyboard.press("Space");
    await tansyMill.getByLabel("Why?").focus();
    await page.keyboard.type(reason);
    await page.keyboard.press("Tab");
    await page.keyboard.type("Ivy");
    await page.keyboard.press("Enter");
    await expect(tansyMill.getByText(reason)).toBeVisible();
  };
  await decide("Grow again", "It stood, and the leaves were large.");
  await tansyMill.getByText("Decide again on Tansy Mill").click();
  await decide("Try once more", "On second thoughts one winter is not enough.");
  await tansyMill.getByText("Verdicts before this one").click();
  await expect(tansyMill.getByText("It stood, and the leaves were large.")).toBeVisible();
  await expect(tansyMill.getByText(/by Ivy/).first()).toBeVisible();
});

test("a reason that is too long is refused with the number, and kept", async ({ page }) => {
  await openTrial(page, "Verdict");
  const thornlea = page.getByRole("region", { name: "Thornlea" });
  const long = "x".repeat(10_001);
  await thornlea.getByRole("radio", { name: "Grow again" }).check();
  await thornlea.getByLabel("Why?").fill(long);
  await thornlea.getByRole("button", { name: "Write the verdict down" }).click();
  await expect(page.getByRole("alert").filter({ hasText: "to mend" })).toContainText(/10,?000/);
  await expect(thornlea.getByLabel("Why?")).toHaveValue(long);
  await expect(thornlea.getByRole("radio", { name: "Grow again" })).toBeChecked();
});

test("the results print on paper without what only a screen can use", async ({ page }) => {
  await openTrial(page, "Results");
  await page.emulateMedia({ media: "print" });
  await expect(page.getByRole("navigation", { name: "This trial" })).toBeHidden();
  await expect(page.getByRole("button", { name: "Show" })).toBeHidden();
  await expect(page.getByRole("img", { name: /^Stood on/ }).first()).toBeVisible();
});
