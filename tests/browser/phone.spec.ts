import { createHash, X509Certificate } from "node:crypto";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import AxeBuilder from "@axe-core/playwright";
import { type Browser, test as base, chromium, expect, type Page } from "@playwright/test";
import { openDatabase } from "@/db/open";
import { findChromium } from "@/lib/command/chromium";
import { makeAuthority, makeLeaf } from "@/lib/command/home-authority";
import { liveHouse } from "@/lib/command/live-house";
import { peopleView } from "@/lib/service/people-view";
import { startPairing } from "@/lib/service/start-pairing";
import { aMomentLater } from "./home-in-test";
import { type Site, startSite } from "./site";

const host = "home.local";

interface Home {
  site: Site;
  /** Where the phone finds it. */
  address: string;
  /** A browser that trusts this home's certificate, as a phone does that was told to. */
  phone: Browser;
}

function freePort(): Promise<number> {
  return new Promise((resolve) => {
    const server = createServer();
    server.listen(0, () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => resolve(port));
    });
  });
}

const test = base.extend<{ home: Home }>({
  home: [
    // biome-ignore lint/correctness/noEmptyPattern: the runner asks for a pattern
    async ({}, use) => {
      const folder = mkdtempSync(join(tmpdir(), "proving-bed-cert-"));
      const [certificate, key] = [join(folder, "home.crt"), join(folder, "home.key")];
      const leaf = await makeLeaf(await makeAuthority("home", Date.now()), [host], Date.now());
      writeFileSync(certificate, leaf.certificate);
      writeFileSync(key, leaf.key);
      const port = await freePort();
      const site = await startSite("demo", {
        args: ["--phone"],
        env: {
          PROVING_BED_CERT: certificate,
          PROVING_BED_KEY: key,
          PROVING_BED_PHONE_PORT: String(port),
        },
      });
      const publicKey = new X509Certificate(leaf.certificate).publicKey.export({
        type: "spki",
        format: "der",
      });
      const pin = createHash("sha256").update(publicKey).digest("base64");
      const phone = await chromium.launch({
        executablePath: findChromium(process.env) ?? undefined,
        args: [
          "--no-sandbox",
          "--disable-gpu",
          `--ignore-certificate-errors-spki-list=${pin}`,
          `--host-resolver-rules=MAP ${host} 127.0.0.1`,
        ],
      });
      await use({ site, address: `https://${host}:${port}`, phone });
      await phone.close();
      await site.stop();
      rmSync(folder, { recursive: true, force: true });
    },
    { timeout: 180_000 },
  ],
});

/** What the code on the screen at home holds, which no test can read off it. */
function freshToken(site: Site, name: string): string {
  const database = openDatabase(join(site.dataFolder, "garden.sqlite"));
  try {
    const house = liveHouse(database, site.dataFolder);
    const person = peopleView(house).people.find((known) => known.name === name);
    return startPairing(house, person!.id)!.token;
  } finally {
    database.$client.close();
  }
}

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0].html}`)).toEqual([]);
}

const strip = (page: Page) => page.getByRole("button", { name: /on this phone only|Everything is home/ });

test("a phone is paired by a code, walks with no signal, is signed out at home without losing a fact, and signs in again", async ({
  home,
  page: desk,
}) => {
  const { site, address, phone } = home;
  await desk.goto(`${site.url}/people`);
  await desk.getByLabel("Name", { exact: true }).fill("Ada");
  await desk.getByRole("button", { name: "Add", exact: true }).click();
  await desk.getByRole("button", { name: "Pair a phone for Ada" }).click();
  await expect(desk.getByRole("img", { name: "Code that pairs a phone for Ada" })).toBeVisible();
  await expectClean(desk);

  const context = await phone.newContext({
    viewport: { width: 360, height: 740 },
    locale: "en-GB",
    serviceWorkers: "allow",
  });
  let page = await context.newPage();
  await page.goto(`${address}/trials`);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Sign in");
  await expectClean(page);
  const token = freshToken(site, "Ada");
  await page.goto(`${address}/pair?t=${token}`);
  await expectClean(page);
  await page.getByRole("button", { name: "Pair this phone" }).click();
  await expect(page).toHaveURL(`${address}/walkabout`);
  await expect(page.getByLabel("Who is walking?")).toHaveValue("Ada");
  await page.getByRole("button", { name: "That is me" }).click();
  await expect(strip(page)).toContainText("Everything is home.");
  await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active?.state === "activated");
  await page.goto(`${address}/pair?t=${token}`);
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("This code cannot be used");
  await page.close();

  await context.setOffline(true);
  page = await context.newPage();
  await page.clock.install();
  await page.goto(`${address}/walkabout`);
  await page.getByRole("button", { name: "Looked over" }).click();
  await aMomentLater(page);
  await expect(strip(page)).toContainText("on this phone only");

  await desk.reload();
  await desk.getByRole("button", { name: "End it" }).click();
  await expect(desk.getByRole("list", { name: "Phones of Ada" })).toHaveCount(0);
  await context.setOffline(false);
  await page.reload();
  await expect(strip(page)).toContainText("on this phone only");
  await expect(strip(page)).toContainText("Sign in to send.");

  await desk.getByText("Set a passphrase").click();
  await desk.getByLabel("Passphrase").fill("moss kettle narrow lamp");
  await desk.getByRole("button", { name: "Keep the passphrase" }).click();
  await expect(desk.getByText("Has a passphrase.")).toBeVisible();
  await page.getByRole("link", { name: "Sign in", exact: true }).click();
  await page.getByLabel("Name").fill("ada");
  await page.getByLabel("Passphrase").fill("moss kettle narrow lamb");
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page.getByRole("alert").first()).toContainText("do not belong together");
  await page.getByLabel("Passphrase").fill("moss kettle narrow lamp");
  await page.getByRole("button", { name: "Sign in" }).click();
  await expect(page).toHaveURL(`${address}/walkabout`);
  await expect(strip(page)).toContainText("Everything is home.");
  await page.goto(`${address}/people`);
  await expect(page.getByText("on the computer at home only")).toBeVisible();
});
