import AxeBuilder from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { expect, test } from "./site";

test.use({ filling: "demo" });
test.describe.configure({ mode: "serial" });

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .options({ rules: { "target-size": { enabled: true } } })
    .analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(over).toBeLessThanOrEqual(0);
}

const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const summary = (page: Page) => page.getByRole("alert").filter({ hasText: "to mend" });

/** A plan up to its proposal: a check and so many varieties more, in a new bed. */
async function begin(page: Page, plan: { bed: string; lengthM: number; varieties: number }): Promise<void> {
  await page.goto("/trials/new");
  const afresh = button(page, "Start afresh");
  if (await afresh.isVisible()) await afresh.click();
  await page.getByLabel("What do you want to find out?").fill(`Which stands in ${plan.bed}?`);
  await button(page, "Add a bed").click();
  await page.getByLabel("Name", { exact: true }).fill(plan.bed);
  await page.getByLabel("Width, across from the path").fill("1.2 m");
  await page.getByLabel("Length, along the path").fill(`${plan.lengthM} m`);
  await page.getByLabel("Crop", { exact: true }).fill("Purslane");
  await page.getByRole("group", { name: "The check", exact: true }).getByLabel("Variety").fill("Hollin");
  for (let row = 1; row <= plan.varieties; row += 1) {
    const variety = page.getByLabel(`Variety ${row}`, { exact: true });
    if ((await variety.count()) === 0) await button(page, "Add a variety").click();
    await variety.fill(`Seedling ${row}`);
  }
  await page.getByLabel("When is it sown?").fill("14 Aug 2027");
  await page.getByLabel("When is it planted out?").fill("18 Sep 2027");
}

async function propose(page: Page): Promise<void> {
  await button(page, "Propose a plan that fits").click();
  await expect(page.getByRole("heading", { name: "Plots" })).toBeFocused();
}

/** Waits for the answer itself: the layout beside the figures may be redrawn before it. */
async function draw(page: Page): Promise<void> {
  await page.getByRole("heading", { name: "The layout" }).evaluate((heading) => heading.blur());
  await button(page, "Draw it").click();
  await expect(page.getByRole("heading", { name: "The layout" })).toBeFocused();
}

async function save(page: Page): Promise<void> {
  await button(page, "Save the trial").click();
  await page.waitForURL(/\/trials\/[0-9a-f-]{36}$/);
}

test("covers to be compared make a split plot, with its reason and what it can tell", async ({ page }) => {
  await begin(page, { bed: "Split bed", lengthM: 7, varieties: 2 });
  await page.getByText("Compare covers, sowing dates or a companion as well as varieties").click();
  await page.getByLabel("Cover 1", { exact: true }).fill("open ground");
  await button(page, "Propose a plan that fits").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([/^A split plot wants something to compare/]);
  await page.getByLabel("Cover 2", { exact: true }).fill("fleece");
  await propose(page);
  await expect(page.getByLabel("Split plot")).toBeChecked();
  await expect(page.getByText(/A cover cannot go over one small plot alone/)).toBeVisible();
  await expect(page.getByText(/Covers are compared by whole main plots/)).toBeVisible();
  await expect(
    page.getByText(/points in survival four times in five; of \d+ points once in four/),
  ).toBeVisible();
  await button(page, "Try it out on made-up trials").click();
  await expect(page.getByRole("progressbar", { name: "Made-up trials tried" })).toBeVisible();
  await expect(page.getByText(/made-up trials like this one.* was seen \d+ times in 100/)).toBeVisible({
    timeout: 60_000,
  });
  await page.getByText("What one more block would buy, or two more plants a plot").click();
  await expect(page.getByRole("row", { name: /^One more block/ })).toBeVisible();
  await page.getByText("Another crop stands between the plants").click();
  await page.getByLabel("Companion", { exact: true }).fill("Spring onions");
  await page.getByLabel("Sowing date of the companion").fill("14 Aug 2027");
  await page.getByLabel("From companion to companion").fill("10");
  await page.getByLabel("From companion to companion").press("Tab");
  await expect(page.getByText(/as old as the Purslane.*smothered \(common practice\)/)).toBeVisible();
  await expectClean(page);
  await page.reload();
  await expect(page.getByLabel("Cover 2", { exact: true })).toHaveValue("fleece");
  await expect(page.getByLabel("Split plot")).toBeChecked();
  await save(page);
  await expect(
    page.getByText(/3 varieties × open ground, fleece × \d blocks × \d+ plants a plot/),
  ).toBeVisible();
  await expect(page.getByText("open ground; fleece from Sat 18 Sep 2027")).toBeVisible();
  await expect(page.getByText(/Spring onions \(slow and upright\) every 10 cm/)).toBeVisible();
  await page.getByRole("link", { name: "Layout", exact: true }).click();
  await expect(page.getByRole("row", { name: /^A1 .* (open ground|fleece) 1/ })).toBeVisible();
  await expectClean(page);
});

test("a second sowing date is a split plot too, and both at once are refused", async ({ page }) => {
  await begin(page, { bed: "Sowing bed", lengthM: 7, varieties: 2 });
  await page.getByText("Compare covers, sowing dates or a companion as well as varieties").click();
  await page.getByLabel("Cover 1", { exact: true }).fill("fleece");
  await page.getByLabel("Sowing 2", { exact: true }).fill("28 Aug 2027");
  await button(page, "Propose a plan that fits").click();
  await expect(summary(page).getByRole("listitem")).toContainText([/Compare covers, or sowing dates/]);
  await page.getByLabel("Cover 1", { exact: true }).fill("");
  await propose(page);
  await expect(page.getByText(/what stands at one age/)).toBeVisible();
  await save(page);
  await page.getByRole("link", { name: "sowing list" }).click();
  await expect(page.getByRole("row", { name: /Hollin/ })).toHaveCount(2);
  await expectClean(page);
});

test("a companion is compared as a split plot: drawn where it stands, alone in the other stretches", async ({
  page,
}) => {
  await begin(page, { bed: "Onion bed", lengthM: 9, varieties: 2 });
  await page.getByText("Compare covers, sowing dates or a companion as well as varieties").click();
  await page.getByLabel("Compared companion", { exact: true }).fill("spring onions");
  await button(page, "Propose a plan that fits").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    "Enter when the compared companion is sown, such as 1 Aug 2027.",
    "Enter the distance from companion to companion, such as 10 cm.",
  ]);
  await expectClean(page);
  await page.getByLabel("Sowing date of the compared companion").fill("28 Jul 2027");
  await page.getByLabel("Between compared companions").fill("10");
  await propose(page);
  await expect(page.getByText(/A companion reaches over the edge of one small plot/)).toBeVisible();
  await expect(page.getByText(/Companions are compared by whole main plots/)).toBeVisible();
  await expect(page.getByText(/Leave the rows where the companion would stand empty/)).toBeVisible();
  await expectClean(page);
  await save(page);
  await expect(
    page.getByText(
      /with spring onions between \(slow and upright, every 10 cm, sown Wed 28 Jul 2027\); alone/,
    ),
  ).toBeVisible();
  await page.getByRole("link", { name: "Layout", exact: true }).click();
  await expect(page.getByRole("row", { name: /^A1 .* (with spring onions between|alone) 1/ })).toBeVisible();
  await page.goto(page.url().replace(/\/beds$/, ""));
  await page.getByRole("link", { name: "Plan another trial from this one" }).click();
  await expect(page.getByLabel("Compared companion", { exact: true })).toHaveValue("spring onions");
  await expect(page.getByLabel("Between compared companions")).toHaveValue("10 cm");
});

test("sixteen varieties lie in small blocks, or in a look-see bed where there is little room", async ({
  page,
}) => {
  await begin(page, { bed: "Many bed", lengthM: 14, varieties: 15 });
  await propose(page);
  await expect(page.getByLabel("Small blocks")).toBeChecked();
  await expect(page.getByLabel("Plots in a small block")).toHaveValue("4");
  await expect(page.getByText(/blocks of 4 are, and chance mixes the varieties anew/)).toBeVisible();
  await expectClean(page);
  await page.getByLabel("Length, along the path").fill("2.4 m");
  await button(page, "Propose how they are dealt, too").click();
  await expect(page.getByLabel("Look-see bed")).toBeChecked();
  await expect(page.getByText(/This bed can tell dead from alive/)).toBeVisible();
  await save(page);
  await expect(page.getByText(/16 varieties, the checks in each of \d blocks/)).toBeVisible();
});

test("a Latin square is chosen, refused with the numbers, and had with as many rows as varieties", async ({
  page,
}) => {
  await begin(page, { bed: "Square bed", lengthM: 6, varieties: 3 });
  await propose(page);
  await page.getByLabel("Latin square").check();
  await page.getByLabel("Blocks", { exact: true }).fill("3");
  await draw(page);
  await expect(page.getByText(/a Latin square has as many rows as varieties/)).toBeVisible();
  await button(page, "Propose blocks and plants again for this bed").click();
  await expect(page.getByLabel("Blocks", { exact: true })).toHaveValue("4");
  await expect(page.getByText("It cannot be drawn as it stands.")).toHaveCount(0);
  await page.getByLabel("From row to row").fill("50 cm");
  await draw(page);
  await expect(page.getByText(/4 plots side by side need 2 m of width; the bed is 1.2 m wide/)).toBeVisible();
  await page.getByLabel("From row to row").fill("30 cm");
  await page.getByText("Something fixed is in the way").click();
  await page.getByLabel("Where it begins").fill("0");
  await page.getByLabel("Where it ends").fill("50 cm");
  await draw(page);
  await expect(
    page.getByText(/this one is 6 m, less what stands in the way\. What would do: 4 plants a plot\./),
  ).toBeVisible();
  await page.getByLabel("Plants a plot").fill("4");
  await draw(page);
  await expect(page.getByText("It cannot be drawn as it stands.")).toHaveCount(0);
  await page.getByLabel("Guard rows").fill("one");
  await button(page, "Save the trial").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([/^Guard rows must be a whole number/]);
  await page.getByLabel("Guard rows").fill("");
  await save(page);
  await expect(page.getByText(/4 varieties in 4 rows and columns/)).toBeVisible();
});

test("the papers print on A4 and on Letter, and leave out what is only for the screen", async ({ page }) => {
  await page.goto("/trials");
  await page.getByRole("link", { name: /Split bed/ }).click();
  await page.getByRole("link", { name: "sowing list" }).click();
  const seeds = page
    .getByRole("row", { name: /Hollin/ })
    .getByRole("cell")
    .nth(3);
  const before = Number(await seeds.textContent());
  await page.getByText("What comes up of each packet, and the spares").click();
  await page.getByLabel("Hollin", { exact: true }).fill("40 %");
  await page.getByLabel("Spares", { exact: true }).fill("many");
  await button(page, "Reckon the seeds").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    /^Spares must be a percentage from 0 to 500/,
  ]);
  await expect(seeds).toHaveText("not known");
  await page.getByLabel("Spares", { exact: true }).fill("20");
  await button(page, "Reckon the seeds").click();
  await expect(page.getByLabel("Hollin", { exact: true })).toHaveValue("40 %");
  expect(Number(await seeds.textContent())).toBeGreaterThan(1.9 * before);
  await expectClean(page);

  await page.getByRole("link", { name: "Stake labels" }).click();
  const label = page.getByRole("listitem").filter({ hasText: /^A1/ });
  await expect(label).toContainText(/Hollin|Seedling/);
  await page.getByRole("link", { name: "Without the varieties’ names" }).click();
  await expect(label).not.toContainText(/Hollin|Seedling/);
  await expectClean(page);
  await page.getByRole("link", { name: "Field sheet for a day without a phone" }).click();
  await expect(page.getByRole("row", { name: /^A1/ })).toBeVisible();
  await expectClean(page);

  for (const path of ["/beds", "/sowing-list", "/stake-labels", "/field-sheet"]) {
    await page.goto(page.url().replace(/\/[a-z-]+(\?.*)?$/, path));
    await page.emulateMedia({ media: "print" });
    await expect(page.getByRole("navigation", { name: "To print" })).toBeHidden();
    await expect(page.getByText(/prints? on A4/i)).toBeHidden();
    for (const format of ["A4", "Letter"]) {
      const paper = await page.pdf({ format });
      const pages = paper.toString("latin1").match(/\/Type\s*\/Page\b/g) ?? [];
      expect(pages.length).toBeGreaterThan(0);
      expect(pages.length).toBeLessThan(4);
    }
    await page.emulateMedia({ media: null });
  }
});

test("a trial is planned again from an old one, and with what was left undecided", async ({ page }) => {
  await page.goto("/trials");
  await page.getByRole("link", { name: /Split bed/ }).click();
  await page.getByRole("link", { name: "Plan another trial from this one" }).click();
  await expect(page.getByText(/^Begun from “Which stands in Split bed\?”/)).toBeVisible();
  await expect(page.getByLabel("Variety 2", { exact: true })).toHaveValue("Seedling 2");
  await expect(page.getByLabel("Cover 2", { exact: true })).toHaveValue("fleece");
  await expectClean(page);
  await page.getByLabel("Variety 2", { exact: true }).fill("Wick Hill");
  await page.reload();
  await expect(page.getByLabel("Variety 2", { exact: true })).toHaveValue("Wick Hill");
  await button(page, "Propose a plan that fits").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([/^Choose a bed/]);
  await page.goto("/trials");
  await page.getByRole("link", { name: /Split bed/ }).click();
  await page.getByRole("link", { name: "Plan one with what is to be tried once more" }).click();
  await expect(page.getByText(/with what was to be tried once more/)).toBeVisible();
});

test("every plot of a variety that did not come up is taken out at once", async ({ page }) => {
  await page.goto("/trials");
  await page.getByRole("link", { name: /Square bed/ }).click();
  await page.getByRole("link", { name: "Take a plot out of the reckoning" }).click();
  await page.getByLabel("Plot", { exact: true }).selectOption({ label: "Every plot of Seedling 2" });
  await page.getByLabel("There is nothing to judge").check();
  await page.getByLabel("From which day").fill("20 Sep 2027");
  await page.getByLabel("Reason").fill("did not come up");
  await button(page, "Take the plot out").click();
  await expect(page.getByText(/holds nothing to be judged from Mon 20 Sep 2027 on/)).toHaveCount(4);
});

test("a list of varieties, a row of pots and a planting day are enough; what it can show is drawn", async ({
  page,
}) => {
  await page.goto("/trials/new");
  const afresh = button(page, "Start afresh");
  if (await afresh.isVisible()) await afresh.click();
  await page.getByLabel("What do you want to find out?").fill("Which kale stands the winter in pots?");
  await button(page, "Add a bed").click();
  await page.getByLabel("Name", { exact: true }).fill("Row of pots");
  await page.getByLabel("Width, across from the path").fill("40");
  await page.getByLabel("Length, along the path").fill("8 m");
  await page.getByLabel("Size of one pot").fill("40");
  await page.getByLabel("Crop", { exact: true }).fill("Curly kale");
  await page.getByText("Take the varieties from a list or a spreadsheet").click();
  const list = page.getByLabel("The list");
  await list.fill(
    "variety\tpacket claim\trole\nHollin\t\tcheck\nPennick\tred\t\npennick\t\t\nCarrow\t\tperhaps",
  );
  await button(page, "Fill in from the list").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([
    /^List, line 4: pennick\. What would do: a variety that is not in line 3 already\.$/,
    /^List, line 5: .*check, tender check, or nothing\.$/,
  ]);
  await expectClean(page);
  await page.getByLabel("Or from a CSV file").setInputFiles({
    name: "kale.csv",
    mimeType: "text/csv",
    buffer: Buffer.from("variety;packet claim;role\nHollin;;check\nPennick;red;\nCarrow;;\n"),
  });
  await expect(list).toHaveValue(/^variety;packet claim;role/);
  await button(page, "Fill in from the list").click();
  await expect(page.getByLabel("Variety 2", { exact: true })).toHaveValue("Carrow");
  await expect(page.getByLabel("What packet 1 says")).toHaveValue("red");
  await page.getByLabel("When is it planted out?").fill("18 Sep 2027");
  await propose(page);
  await expect(page.getByLabel("When is it sown?")).toHaveValue("7 Aug 2027");
  await expect(page.getByText(/raised for about 6 weeks \(common practice\)/)).toBeVisible();
  await page.getByLabel("From plant to plant").fill("20");
  await page.getByLabel("From row to row").fill("20");
  await page.getByLabel("Blocks", { exact: true }).fill("4");
  await page.getByLabel("Plants a plot").fill("4");
  await page.getByLabel("At the right hand").check();
  await draw(page);
  await expect(page.getByText(/the first plot lies at your right hand/)).toBeVisible();
  await expect(page.getByRole("img", { name: /^The smallest difference in survival/ })).toBeVisible();
  await expect(
    page.getByText(/^In survival, one more block \(12 plants more in all\) buys \d+ points/),
  ).toBeVisible();
  await page.getByText("The same as a table").click();
  await expect(page.getByRole("cell", { name: /^\d+, this plan$/ })).toBeVisible();
  await expectClean(page);
  await page.getByLabel("Plants a plot").fill("30");
  await draw(page);
  await expect(page.getByText(/30 plants at 20 cm × 20 cm in a pot 40 cm × 40 cm/)).toBeVisible();
  await page.getByLabel("Plants a plot").fill("4");
  await draw(page);
  await save(page);
  await page.getByRole("link", { name: "Layout", exact: true }).click();
  await expect(page.getByText("Each plot is a pot of the row.")).toBeVisible();
});

test("a packet's germination test reckons its seeds, and a plot planted wrongly counts for neither variety", async ({
  page,
}) => {
  await page.goto("/trials");
  await page.getByRole("link", { name: "Which kale stands the winter in pots?" }).first().click();
  await page.getByRole("link", { name: "sowing list" }).click();
  await page.getByText("Tests of what comes up").click();
  const hollin = page.getByRole("group", { name: "Hollin", exact: true });
  await hollin.getByLabel("Seeds laid out").fill("50");
  await hollin.getByLabel("Came up").fill("51");
  await hollin.getByLabel("After days").fill("10");
  await button(page, "Keep the tests").click();
  await expect(summary(page).getByRole("listitem")).toHaveText([/how many of them came up, 0 to 50/]);
  await hollin.getByLabel("Came up").fill("40");
  await button(page, "Keep the tests").click();
  await expect(page.getByText("Kept, and the seeds reckoned.")).toBeVisible();
  await expect(page.getByRole("row", { name: /^Hollin/ })).toContainText("80 (67 to 89)");
  await expectClean(page);

  await page.getByRole("link", { name: "Plan", exact: true }).click();
  await page.getByRole("link", { name: "Take a plot out of the reckoning" }).click();
  await page.getByLabel("Plot", { exact: true }).selectOption({ index: 1 });
  await page.getByLabel("Another variety was planted there").check();
  await page.getByLabel("From which day").fill("18 Sep 2027");
  await page.getByLabel("Reason").fill("the trays were changed over");
  await button(page, "Take the plot out").click();
  await expect(summary(page).getByRole("listitem")).toHaveText(["Enter the variety that was planted there."]);
  await page.getByLabel("Which variety was planted there").fill("a stray seedling");
  await button(page, "Take the plot out").click();
  await expect(
    page.getByText(/Plot A1 holds a stray seedling instead of .* it counts for neither\./),
  ).toBeVisible();
});
