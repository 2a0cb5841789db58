import AxeBuilder from "@axe-core/playwright";
import { expect, test } from "./site";

test.use({ filling: "demo" });

const spreadsheet = (rows: string[]) => ({
  name: "old picks.csv",
  mimeType: "text/csv",
  buffer: Buffer.from(["Our beans;;;;", "Date;Plot;Weight;Remarks;Weather", ...rows].join("\r\n"), "latin1"),
});

const broadBeans = /broad bean/i;

test("an old spreadsheet with faults is mended, imported and seen on the trial's log", async ({
  page,
}, info) => {
  const note = `wet café, ${info.project.name}`;
  const picks = [`03/04/2027;A1;1,25 kg;${note};rain`, "05/04/2027;A2;450;;"];
  await page.goto("/files");
  await page.getByRole("link", { name: /^Import from a spreadsheet/ }).click();
  await expect(page.getByRole("heading", { name: "Import", level: 1 })).toBeVisible();
  await page.getByRole("button", { name: "Read the file" }).click();
  await expect(page.getByText("Choose the file first.")).toBeVisible();
  const trial = page.getByLabel("The trial that they belong to");
  const beans = trial.locator("option", { hasText: broadBeans }).first();
  await trial.selectOption((await beans.getAttribute("value")) ?? "");

  await test.step("its columns are guessed from their names", async () => {
    await page
      .getByLabel("The file", { exact: true })
      .setInputFiles(spreadsheet([...picks, "06/04/2027;Z9;heavy;;"]));
    await page.getByRole("button", { name: "Read the file" }).click();
    await expect(page.getByText("Windows-1252, values separated by semicolons")).toBeVisible();
    await expect(page.getByLabel("The figure")).toHaveValue("column 2");
    await page.getByLabel("What each row is").selectOption("a harvest");
    await page.getByRole("button", { name: "Try it" }).click();
  });

  await test.step("it is asked once which day its dates are", async () => {
    await expect(page.getByRole("alert", { name: "One thing to mend" })).toContainText(
      "Say which day 03/04/2027 is in this file.",
    );
    await expect(page.getByText("In this file, what is 03/04/2027?")).toBeVisible();
    await page.getByLabel("Sat 3 Apr 2027").check();
    await page.getByRole("button", { name: "Try it" }).click();
  });

  await test.step("every fault has its place, and nothing is taken in", async () => {
    await expect(page.getByRole("heading", { name: "2 things to mend in the file" })).toBeVisible();
    await expect(page.getByRole("row", { name: /^5 Plot Z9/ })).toContainText("a plot of the trial");
    await expect(page.getByRole("row", { name: /^5 Weight heavy/ })).toContainText("1.2 kg");
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id, nodes }) => [id, nodes.map((node) => node.html)])).toEqual([]);
  });

  await test.step("the mended file goes on from there", async () => {
    await page.getByLabel("The file", { exact: true }).setInputFiles(spreadsheet(picks));
    await page.getByRole("button", { name: "Read the file" }).click();
    await expect(page.getByRole("heading", { name: "It can be taken in" })).toBeVisible();
    await page.getByRole("button", { name: "Import 2 observations" }).click();
    await expect(page.getByText("2 observations read: 2 taken in, 0 here already.")).toBeVisible();
    await page.getByRole("link", { name: "See it on the trial’s log" }).click();
    await expect(page.getByText(new RegExp(`${note}; Weather: rain`)).first()).toBeVisible();
  });
});
