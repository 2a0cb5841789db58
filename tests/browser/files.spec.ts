import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { strFromU8, unzipSync } from "fflate";
import { expect, test } from "./site";

test.use({ filling: "demo" });

async function noAxeFaults(page: import("@playwright/test").Page) {
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
}

test("the whole garden is taken out as one zip, with the licence that was chosen", async ({ page }) => {
  await page.goto("/files");
  await expect(page.getByText(/^Last good backup: |^There is no backup yet/)).toBeVisible();
  await noAxeFaults(page);
  await page.getByLabel("Licence").selectOption("CC-BY-4.0");
  const coming = page.waitForEvent("download");
  await page.getByRole("button", { name: "Download the whole garden" }).click();
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/^garden-\d{4}-\d{2}-\d{2}\.zip$/);
  const files = unzipSync(readFileSync(await download.path()));
  const described = JSON.parse(strFromU8(files["datapackage.json"]));
  expect(described).toMatchObject({ title: "Hazel Clough", licenses: [{ name: "CC-BY-4.0" }] });
  expect(strFromU8(files["garden.csv"])).toContain("54.2,-2.3");
});

test("a garden’s file is taken out, sent back, looked at and put in its place", async ({ page }) => {
  const folder = mkdtempSync(join(tmpdir(), "proving-bed-copy-"));
  try {
    await page.goto("/files");
    const coming = page.waitForEvent("download");
    await page.getByRole("link", { name: "Download the garden’s file" }).click();
    const copy = join(folder, "copy.sqlite");
    await (await coming).saveAs(copy);

    await page.getByRole("link", { name: "Choose a copy" }).click();
    await expect(page.getByRole("heading", { name: "Put a copy back" })).toBeVisible();
    await noAxeFaults(page);
    const letter = join(folder, "letter.sqlite");
    writeFileSync(letter, "Dear all, this is a letter and no garden.");
    const file = page.getByLabel("A garden’s file, as it was downloaded here");
    await file.setInputFiles(letter);
    await page.getByRole("button", { name: "Look at it" }).click();
    await expect(page.getByRole("alert").first()).toContainText("a file of another kind");

    await file.setInputFiles(copy);
    await page.getByRole("button", { name: "Look at it" }).click();
    await expect(page.getByRole("heading", { name: "Put this copy back?" })).toBeVisible();
    await expect(page.getByRole("row", { name: /^Garden/ })).toContainText("Hazel Clough");
    await noAxeFaults(page);
    await page.getByRole("button", { name: "Put it back" }).click();
    await expect(page.getByRole("heading", { name: "The copy is in its place" })).toBeVisible({
      timeout: 30_000,
    });
    await page.getByRole("link", { name: "See what is due today" }).click();
    await expect(page.getByText("Hazel Clough").first()).toBeVisible();

    // What was there before is one of the copies now, and is looked at in the same way.
    await page.goto("/files/put-back");
    await page
      .getByRole("row", { name: /kept when a copy was put back/ })
      .getByRole("link")
      .click();
    await expect(page.getByRole("heading", { name: "Put this copy back?" })).toBeVisible();
    await page.getByRole("link", { name: "Leave everything as it is" }).click();
    await expect(page.getByRole("heading", { name: "Put a copy back" })).toBeVisible();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
