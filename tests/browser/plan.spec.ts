import AxeBuilder from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { expect, test } from "./site";

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .options({ rules: { "target-size": { enabled: true } } })
    .analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
}

/** Nothing has to be scrolled sideways. */
async function expectNoSidewaysScroll(page: Page): Promise<void> {
  const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(over).toBeLessThanOrEqual(0);
}

const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const summary = (page: Page) => page.getByRole("alert").filter({ hasText: "to mend" });
const group = (page: Page, name: string): Locator => page.getByRole("group", { name, exact: true });

async function beginPlan(page: Page, bed: string): Promise<void> {
  await page.goto("/trials/new");
  await page.getByLabel("What do you want to find out?").fill(`Which mustard stands the winter in ${bed}?`);
  const name = page.getByLabel("Name", { exact: true });
  if ((await name.count()) === 0) await button(page, "Add a bed").click();
  await name.fill(bed);
  await page.getByLabel("Width, across from the path").fill("1.2 m");
  await page.getByLabel("Length, along the path").fill("480");
  await page.getByLabel("Crop", { exact: true }).fill("Mustard greens");
  await group(page, "The check").getByLabel("Variety").fill("Hollin");
  await group(page, "The tender check").getByLabel("Variety").fill("Thornlea");
  await page.getByLabel("Variety 1", { exact: true }).fill("Pennick");
  await page.getByLabel("Variety 2", { exact: true }).fill("Carrow");
  await page.getByLabel("Kind of cover").fill("fleece");
  await page.getByLabel("When is it sown?").fill("14 Aug 2027");
  await page.getByLabel("When is it planted out?").fill("18th Sept 2027");
}

async function propose(page: Page): Promise<void> {
  await button(page, "Propose a plan that fits").click();
  await expect(page.getByRole("heading", { name: "Plots" })).toBeFocused();
}

async function save(page: Page): Promise<void> {
  await button(page, "Save the trial").click();
  await page.waitForURL(/\/trials\/[0-9a-f-]{36}$/);
}

test.describe.configure({ mode: "serial" });

test("a first visit offers the demo or a garden of one's own; a garden is started after every fault is named", async ({
  page,
}) => {
  await page.goto("/");
  await expect(button(page, "Look round the demo")).toBeVisible();
  await expectClean(page);
  await page.getByRole("link", { name: "Start my own garden" }).click();
  await page.getByLabel("Latitude").fill("ninety-nine");
  await page.getByLabel("Height above the sea").fill("-90000");
  await page.getByLabel("Time zone").fill("Clough/Time");
  await button(page, "Start the garden").click();
  await expect(summary(page)).toBeFocused();
  await expect(page).toHaveTitle(/^To mend: /);
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Enter what the garden is called.",
    /^Latitude must be degrees from 90 S to 90 N, such as .*; “ninety-nine” was typed\.$/,
    "Enter the garden’s longitude, such as 2.3 W.",
    "Height above the sea must be a whole number from -500 to 6000; “-90000” was typed.",
    "Time zone must be a time zone such as Europe/London; “Clough/Time” was typed.",
  ]);
  await expect(page.getByLabel("Latitude")).toHaveValue("ninety-nine");
  await expectClean(page);
  await summary(page)
    .getByRole("link", { name: /^Latitude/ })
    .click();
  await expect(page.getByLabel("Latitude")).toBeFocused();

  await page.getByLabel("What the garden is called").fill("The <b>Clough</b>");
  await page.getByLabel("Latitude").fill("54.2 N");
  await page.getByLabel("Longitude").fill("2,3 W");
  await page.getByLabel("Height above the sea").fill("190 m");
  await page.getByLabel("Time zone").fill("Europe/London");
  await button(page, "Start the garden").click();
  await expect(page.getByRole("heading", { level: 1, name: "Plan a trial" })).toBeVisible();
  await page.goto("/garden");
  await expect(page.getByText("The <b>Clough</b>, 54.2° N, 2.3° W")).toBeVisible();
});

test("an empty plan is answered with all that it wants, and its summary leads to each field", async ({
  page,
}) => {
  await page.goto("/trials/new");
  await button(page, "Propose a plan that fits").click();
  await expect(summary(page)).toBeFocused();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Enter the question that the trial is to answer.",
    "Choose a bed, or enter a new one.",
    "Enter the crop, such as mustard greens.",
    "Enter at least two varieties: the check, and one to try against it.",
    "Enter the sowing date, such as 14 Aug 2027.",
    "Enter the planting date, such as 18 Sep 2027.",
  ]);
  await expectClean(page);
  await summary(page)
    .getByRole("link", { name: /^Choose a bed/ })
    .click();
  await expect(page.getByLabel("Name", { exact: true })).toBeFocused();
});

test("a trial from its question to its layout", async ({ page }) => {
  await beginPlan(page, "Long bed");
  await page.getByLabel("What packet 1 says").fill("<script>alert(1)</script> stands −10 °C");
  await propose(page);
  await expect(page.getByText(/tell about as much as/)).toBeVisible();
  await expect(page.getByRole("img", { name: /Long bed: what goes where/ })).toBeVisible();
  await expectClean(page);
  await expectNoSidewaysScroll(page);

  // While fields far from it are edited, the layout stays in sight: drawn, or on a phone as a line that leads to it.
  const drawing = page.getByRole("img", { name: /Long bed: what goes where/ });
  await page.getByLabel("How sure").scrollIntoViewIfNeeded();
  await expect(page.getByLabel("How sure")).toBeInViewport();
  if ((page.viewportSize()?.width ?? 0) >= 1100) await expect(drawing).toBeInViewport();
  else {
    await expect(drawing).not.toBeInViewport();
    await expect(
      page.getByText(/plots of \d+ plants; takes .* of 4\.8\sm\. See the layout/),
    ).toBeInViewport();
    await page.getByRole("link", { name: "See the layout" }).click();
    await expect(drawing).toBeInViewport();
  }

  await page.getByLabel("Plants a plot").fill("40");
  await page.getByLabel("Plants a plot").press("Tab");
  await expect(page.getByText(/need .* of a bed 1.2 m wide; this one is 4.8 m/)).toBeVisible();
  await button(page, "Save the trial").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    /^Blocks: .* plots of 40 plants .* What would do: .*plants a plot\.$/,
  ]);
  await expect(page.getByLabel("Plants a plot")).toHaveValue("40");
  await page.getByLabel("Plants a plot").fill("3");
  await page.getByLabel("Plants a plot").press("Tab");
  await expect(page.getByText("It cannot be drawn as it stands.")).toHaveCount(0);
  await save(page);

  await expect(page.getByRole("heading", { level: 1 })).toHaveText(
    "Which mustard stands the winter in Long bed?",
  );
  await expect(page.getByRole("row", { name: /Pennick/ })).toContainText("<script>alert(1)</script>");
  await expect(
    page.getByText(/80\s% sure that at least 70\s% of its plants stand at “regrowth”/),
  ).toBeVisible();
  await expectClean(page);
  await page.getByRole("link", { name: "Layout", exact: true }).click();
  await expect(page.getByText(/Dealt from seed \d+/)).toBeVisible();
  await expect(page.getByRole("row", { name: /^A1/ })).toBeVisible();
  await expectClean(page);
  await expectNoSidewaysScroll(page);
});

test("what cannot be right is named by its field, and nothing typed is lost", async ({ page }) => {
  await beginPlan(page, "Odd bed");
  await propose(page);
  const note = "x".repeat(10_001);
  const typed = {
    Blocks: "four",
    "Plants a plot": "-3",
    "From plant to plant": "9 km",
    Took: "31 Sep 2027",
    "Before hard cold": "2 Sep 2027",
    "Must still stand": "170",
    "How sure": "certain",
    "How it is picked": note,
    "Variety 2": "pennick",
    "The bed is wanted by": "4/3/2028",
  };
  for (const [label, value] of Object.entries(typed))
    await page.getByLabel(label, { exact: true }).fill(value);
  await button(page, "Save the trial").click();
  await expect(summary(page)).toBeFocused();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Blocks must be a whole number; “four” was typed.",
    "Plants a plot must be 1 or more; “-3” was typed.",
    "From plant to plant must be a length such as 120 cm or 1.2 m; “9 km” was typed.",
    /^The day of “took” must be a date such as .*; “31 Sep 2027” was typed\.$/,
    /^How it is picked must be at most 10000 characters; “x+…” was typed\.$/,
    "Must still stand must be a percentage from 0 to 100; “170” was typed.",
    "How sure must be a percentage from 50 to 99; “certain” was typed.",
    /^Bed wanted by must be a date such as .*; “4\/3\/2028” was typed\.$/,
  ]);
  for (const [label, value] of Object.entries(typed))
    await expect(page.getByLabel(label, { exact: true })).toHaveValue(value);
  await expectClean(page);

  const mended = {
    Blocks: "4",
    "Plants a plot": "3",
    "From plant to plant": "25",
    Took: "9 Oct 2027",
    "Must still stand": "70",
    "How sure": "80",
    "How it is picked": "outer leaves",
    "The bed is wanted by": "",
  };
  for (const [label, value] of Object.entries(mended))
    await page.getByLabel(label, { exact: true }).fill(value);
  await button(page, "Save the trial").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Variety 2 must be a variety that is not in the list already; “pennick” was typed.",
    "The day of “before hard cold”: Thu 2 Sep 2027. What would do: the planting date, Sat 18 Sep 2027, or later.",
  ]);
  await page.getByLabel("Variety 2", { exact: true }).fill("Carrow");
  await page.getByLabel("Before hard cold", { exact: true }).fill("");
  await save(page);
  await expect(page.getByText("no day set", { exact: true })).toBeVisible();
});

test("reload and Back lose nothing, and a saved plan leaves no draft", async ({ page }) => {
  await beginPlan(page, "Kept bed");
  await page.reload();
  await expect(page.getByText("This plan was begun before and kept in this browser.")).toBeVisible();
  await expect(page.getByLabel("Name", { exact: true })).toHaveValue("Kept bed");
  await propose(page);
  await page.getByLabel("Must yield").fill("95");
  await page.getByRole("link", { name: "Varieties", exact: true }).click();
  await expect(page.getByRole("heading", { level: 1, name: "Varieties" })).toBeVisible();
  await page.goBack();
  await expect(page.getByLabel("Must yield")).toHaveValue("95");
  await expect(page.getByRole("img", { name: /Kept bed: what goes where/ })).toBeVisible();
  await save(page);
  await expect(page.getByText(/at least 95\s% of the check/)).toBeVisible();
  await page.goto("/trials/new");
  await expect(page.getByLabel("What do you want to find out?")).toHaveValue("");
});

test("a plan that is sent twice makes one trial", async ({ page, context }) => {
  await beginPlan(page, "Twice bed");
  await propose(page);
  const other = await context.newPage();
  await other.goto("/trials/new");
  await expect(other.getByRole("heading", { name: "Plots" })).toBeVisible();
  await save(page);
  await save(other);
  expect(other.url()).toBe(page.url());
  await page.goto("/trials");
  await expect(page.getByRole("link", { name: /Twice bed/ })).toHaveCount(1);
});

test("an accident, a change of mind and an end are written down with their reasons", async ({ page }) => {
  await beginPlan(page, "Changed bed");
  await propose(page);
  await save(page);
  await page.getByRole("link", { name: "Change the rule" }).click();
  await page.getByLabel("Must still stand").fill("sixty");
  await button(page, "Change the rule").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Must still stand must be a percentage from 0 to 100; “sixty” was typed.",
    "Enter why the rule is changed.",
  ]);
  await expectClean(page);
  await page.getByLabel("Must still stand").fill("60");
  await page.getByLabel("Why is it changed?").fill("a cold corner");
  await button(page, "Change the rule").click();
  await expect(page.getByText(/at least 60\s% of its plants/)).toBeVisible();
  await page.getByText("The rule as it was before").click();
  await expect(page.getByText(/at least 70\s% of its plants/)).toBeVisible();

  await page.getByRole("link", { name: "Take a plot out of the reckoning" }).click();
  await page.getByLabel("From which day").fill("soon");
  await button(page, "Take the plot out").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Choose a plot.",
    "Choose what happened to it.",
    /^From which day must be a date such as .*; “soon” was typed\.$/,
    "Enter what happened.",
  ]);
  await expectClean(page);
  await page.getByLabel("Plot", { exact: true }).selectOption({ index: 1 });
  await page.getByLabel("It cannot be judged fairly").check();
  await page.getByLabel("From which day").fill("14 Jan 2028");
  await page.getByLabel("Reason").fill("a dog dug it up");
  await button(page, "Take the plot out").click();
  await expect(page.getByText("Plot A1 is left out of the reckoning from Fri 14 Jan 2028 on.")).toBeVisible();

  await page.getByRole("link", { name: "Close the trial" }).click();
  await button(page, "Close the trial").click();
  await expect(summary(page).getByRole("listitem")).toHaveText(["Enter why the trial is closed."]);
  await expectClean(page);
  await page.getByLabel("Why is it closed?").fill("the bed was wanted");
  await button(page, "Close the trial").click();
  await expect(page.getByText(/The trial was closed on/)).toBeVisible();
  await expect(page.getByRole("link", { name: "Close the trial" })).toHaveCount(0);
});

test("the keyboard alone is enough", async ({ page }) => {
  const type = async (label: string, words: string) => {
    for (let steps = 0; steps < 80; steps += 1) {
      await page.keyboard.press("Tab");
      const isThere = await page
        .getByLabel(label, { exact: true })
        .evaluateAll((fields) => fields.includes(document.activeElement as HTMLElement));
      if (isThere) {
        await page.keyboard.type(words);
        return;
      }
    }
    throw new Error(`Tab did not come to ${label}`);
  };
  const press = async (name: string) => {
    for (let steps = 0; steps < 80; steps += 1) {
      await page.keyboard.press("Tab");
      if (await button(page, name).evaluate((element) => element === document.activeElement)) {
        await page.keyboard.press("Enter");
        return;
      }
    }
    throw new Error(`Tab did not come to ${name}`);
  };
  await page.goto("/trials/new");
  await page.keyboard.press("Tab");
  await expect(page.getByRole("link", { name: "Skip to the page" })).toBeFocused();
  await page.keyboard.press("Enter");
  await expect(page.getByRole("main")).toBeFocused();
  await type("What do you want to find out?", "Which kale stands?");
  await press("Add a bed");
  await expect(page.getByLabel("Name", { exact: true })).toBeFocused();
  await page.keyboard.type("Key bed");
  await type("Width, across from the path", "1.2 m");
  await type("Length, along the path", "9 m");
  await type("Crop", "Kale");
  await type("Variety", "Greyfriar");
  await type("Variety 1", "Longstone");
  await type("When is it sown?", "1 Jul 2027");
  await type("When is it planted out?", "10 Aug 2027");
  await page.keyboard.press("Enter");
  await expect(page.getByRole("heading", { name: "Plots" })).toBeFocused();
  await press("Save the trial");
  await expect(page.getByRole("heading", { level: 1, name: "Which kale stands?" })).toBeVisible();
});

test("a plan can be made where the browser runs no scripts", async ({ browser, baseURL }) => {
  const context = await browser.newContext({ javaScriptEnabled: false, baseURL });
  const page = await context.newPage();
  await beginPlan(page, "Plain bed");
  await button(page, "Propose a plan that fits").click();
  await expect(page.getByRole("img", { name: /Plain bed: what goes where/ })).toBeVisible();
  await page.getByLabel("Blocks", { exact: true }).fill("many");
  await button(page, "Save the trial").click();
  await expect(page.getByRole("link", { name: /^Blocks must be a whole number/ })).toBeVisible();
  await page.getByLabel("Blocks", { exact: true }).fill("3");
  await button(page, "Save the trial").click();
  await expect(page.getByRole("heading", { level: 1 })).toHaveText(
    "Which mustard stands the winter in Plain bed?",
  );
  await context.close();
});

test("every page bears 320 px, text at 200 % and forced colours", async ({ page }) => {
  await page.goto("/trials");
  const trial = await page.getByRole("link", { name: /Long bed/ }).getAttribute("href");
  const id = trial?.split("/")[2];
  const paths = ["/", "/trials", "/trials/new", "/garden", "/varieties"];
  paths.push(
    ...["", "/beds", "/log", "/change-rule", "/take-out-plot", "/close"].map(
      (path) => `/trials/${id}${path}`,
    ),
  );
  for (const path of paths) {
    await page.setViewportSize({ width: 320, height: 640 });
    await page.goto(path);
    await expectNoSidewaysScroll(page);
    await expectClean(page);
    await page.setViewportSize({ width: 640, height: 640 });
    await page.evaluate(() => document.documentElement.setAttribute("style", "font-size: 200%"));
    await expectNoSidewaysScroll(page);
    await page.emulateMedia({ forcedColors: "active" });
    await expect(page.getByRole("heading", { level: 1 })).toBeVisible();
    await page.emulateMedia({ forcedColors: "none" });
  }
});

test("in the dark, contrast holds", async ({ page }) => {
  await page.emulateMedia({ colorScheme: "dark" });
  await beginPlan(page, "Dark bed");
  await button(page, "Propose a plan that fits").click();
  await expect(page.getByRole("heading", { name: "Plots" })).toBeFocused();
  await expectClean(page);
  await page.getByLabel("Blocks", { exact: true }).fill("x");
  await button(page, "Save the trial").click();
  await expect(summary(page)).toBeFocused();
  await expectClean(page);
});
