import { createHash, randomBytes, randomUUID } from "node:crypto";
import { deflateSync } from "node:zlib";
import AxeBuilder from "@axe-core/playwright";
import type { Locator, Page } from "@playwright/test";
import { contractVersion } from "@/lib/sync/contract";
import type { FieldPack } from "@/lib/sync/field-pack";
import { sayDay } from "@/lib/words/day";
import { aMomentLater, homeInTest, openField, twoBeds, walkMoment } from "./home-in-test";
import { expect, test } from "./site";

test.use({ filling: "demo" });

const button = (within: Page | Locator, name: string | RegExp) =>
  within.getByRole("button", { name, exact: true });
const sheet = (page: Page) => page.getByRole("dialog");
const strip = (page: Page) => page.getByRole("button", { name: /on this phone only|Everything is home/ });

async function expectClean(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .options({ rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } } })
    .analyze();
  expect(violations.map((violation) => `${violation.id}: ${violation.nodes[0].html}`)).toEqual([]);
  const small = await page.locator("main").evaluate((main) =>
    [...main.querySelectorAll("button, label:has([type=file]), select, textarea")]
      .filter((target) => target.getClientRects().length > 0)
      .filter((target) => {
        const box = target.getBoundingClientRect();
        const size = Number.parseFloat(getComputedStyle(target).fontSize);
        const mark = /, plant/.test(target.getAttribute("aria-label") ?? "");
        return box.height < 55.5 || box.width < (mark ? 24 : 55.5) || size < 18;
      })
      .map((target) => target.textContent),
  );
  expect(small).toEqual([]);
}

/** The two beds of the trial and one without any between them. */
function threeBeds() {
  const pack = twoBeds();
  const plain = {
    id: "Pear border",
    name: "Pear border",
    widthMm: 900,
    lengthMm: 3000,
    covers: [],
    plots: [],
  };
  return { ...pack, beds: [pack.beds[0], plain, pack.beds[1]] };
}

/** A picture of noise in the size of a camera's, as PNG: 4000 × 3000 points. */
function twelveMegapixels(): Buffer {
  const [width, height] = [4000, 3000];
  const row = Buffer.concat([Buffer.from([0]), randomBytes(width)]);
  const table = Array.from({ length: 256 }, (_, byte) => {
    let sum = byte;
    for (let bit = 0; bit < 8; bit += 1) sum = sum & 1 ? 0xedb88320 ^ (sum >>> 1) : sum >>> 1;
    return sum >>> 0;
  });
  const chunk = (name: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(name), data]);
    let sum = 0xffffffff;
    for (const byte of body) sum = table[(sum ^ byte) & 0xff] ^ (sum >>> 8);
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    check.writeUInt32BE((sum ^ 0xffffffff) >>> 0);
    return Buffer.concat([length, body, check]);
  };
  const header = Buffer.alloc(13);
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  header.set([8, 0, 0, 0, 0], 8);
  const rows = Buffer.concat(Array.from({ length: height }, () => row));
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", header),
    chunk("IDAT", deflateSync(rows, { level: 1 })),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

test("facts of a bed stay as before until tapped; each is two taps, can be taken back, and is told at the end", async ({
  page,
}) => {
  const home = await homeInTest(page, threeBeds());
  await openField(page, "/walkabout", "Who is walking?");
  await expect(button(page, "Cover shut")).toBeVisible();
  await button(page, "Cover shut").click();
  await aMomentLater(page);
  await expectClean(page);
  await button(sheet(page), "On, open for air").click();
  await expect(button(page, "Cover open")).toBeVisible();
  await aMomentLater(page);

  await button(page, "Lowest as before").click();
  await aMomentLater(page);
  for (const key of ["−", "3", ",", "5"]) await button(sheet(page), key).click();
  await expect(sheet(page).getByText("That is −3.5 °C.")).toBeVisible();
  await expectClean(page);
  await button(sheet(page), "Write it down").click();
  await expect(button(page, "Lowest −3.5 °C")).toBeVisible();
  await aMomentLater(page);

  await button(page, "Done nothing").click();
  await aMomentLater(page);
  await expectClean(page);
  await button(sheet(page), "slugs gathered").click();
  await expect(button(page, "Done 1 noted")).toBeVisible();
  await aMomentLater(page);
  await button(page, "Done 1 noted").click();
  await aMomentLater(page);
  await button(sheet(page), "Part of the bed only: no").click();
  await aMomentLater(page);
  await button(sheet(page), "watered").click();
  await expect(page.getByRole("status").first()).toContainText("Long bed: watered, part of the bed only.");
  await button(page, "Undo").click();
  await expect(button(page, "Done 1 noted")).toBeVisible();
  await aMomentLater(page);

  await button(page, "The rest stand").click();
  await expect(page.getByRole("heading", { name: /^Pear border/ })).toBeVisible();
  await aMomentLater(page);
  await expectClean(page);
  await button(page, "Ready to pick").click();
  await aMomentLater(page);
  await sheet(page).getByLabel("Another crop, by its name").fill("leeks");
  await button(sheet(page), "Write it down").click();
  await expect(page.getByText("leeks ready to pick", { exact: true })).toBeVisible();
  await aMomentLater(page);
  await button(page, "Looked over").click();
  await expect(page.getByRole("heading", { name: /^Wall bed/ })).toBeVisible();
  await aMomentLater(page);
  await button(page, "Could not look").click();
  await aMomentLater(page);
  await expect(page.getByText(/^Long bed: 45 of 45 stand/)).toContainText(
    "The bed: cover open, lowest −3.5 °C and slugs gathered.",
  );
  await expect(page.getByText("Pear border: leeks ready to pick.")).toBeVisible();
  await button(page, "Yes, all of them").click();
  await expect(page.getByRole("heading", { name: /Round ended/ })).toBeVisible();
  await expect.poll(() => home.bedFacts().length).toBe(8);
  expect(home.bedFacts().map((fact) => [fact.bedId, fact.kind, fact.what, fact.amount])).toEqual([
    ["Long bed", "cover", "open", null],
    ["Long bed", "lowest", null, -35],
    ["Long bed", "treatment", "slugs gathered", null],
    ["Long bed", "treatment", "watered", null],
    ["Long bed", "withdrawn", null, null],
    ["Pear border", "ready", "leeks", null],
    ["Pear border", "looked", null, null],
    ["Long bed", "cover", "shut", null],
  ]);
  expect(home.inOrder().map((fact) => fact.deviceSequence)).toEqual(home.inOrder().map((_, index) => index));
});

test("thirty plots one by one with five losses take at most 45 taps", async ({ page }) => {
  const home = await homeInTest(page, twoBeds());
  await openField(page, "/walkabout", "Who is walking?");
  let taps = 0;
  const tap = async (target: Locator) => {
    await target.click();
    taps += 1;
    await aMomentLater(page);
  };
  const lost = new Map([
    ["A2", "slugs"],
    ["B4", "cold"],
    ["C5", "unknown"],
    ["D1", "slugs"],
    ["F3", "birds"],
  ]);
  await tap(button(page, "Bed 1 of 2"));
  await tap(button(sheet(page), "Go plot by plot"));
  await expectClean(page);
  for (const plot of [..."ABCDEF"].flatMap((letter) =>
    [1, 2, 3, 4, 5].map((number) => `${letter}${number}`),
  )) {
    await expect(sheet(page).getByRole("heading", { level: 2 })).toHaveText(new RegExp(`^${plot} `));
    const cause = lost.get(plot);
    if (cause) {
      await tap(sheet(page).getByRole("button", { name: "Plant 1, standing" }));
      await tap(button(sheet(page), cause).last());
      await expect(sheet(page).getByRole("button", { name: "Plant 1, gap" })).toBeVisible();
    }
    await tap(button(sheet(page), cause ? "The rest stand: 2" : "All 3 stand"));
  }
  await tap(button(page, "Yes, all of them"));
  await expect(page.getByRole("heading", { name: /Round ended/ })).toBeVisible();
  expect(taps).toBeLessThanOrEqual(45);
  await expect(strip(page)).toContainText("Everything is home.");
  expect(home.of("stand").map((fact) => fact.amount)).toHaveLength(30);
  expect(home.of("loss").map((fact) => [fact.plotId, fact.cause])).toEqual([...lost]);
});

test("a picture of twelve megapixels is scaled down, kept without a signal and sent once after the facts", async ({
  page,
}) => {
  const home = await homeInTest(page, threeBeds());
  await openField(page, "/walkabout", "Who is walking?");
  await expect(button(page, "Cover shut")).toBeVisible();
  home.signal = "none";
  const file = { name: "bed.png", mimeType: "image/png", buffer: twelveMegapixels() };
  await page.getByLabel(/^Picture/).setInputFiles(file);
  await expect(strip(page)).toContainText("1 fact and one picture on this phone only");
  await page.reload();
  await expect(strip(page)).toContainText("1 fact and one picture on this phone only");
  home.signal = "well";
  await page.evaluate(() => dispatchEvent(new Event("online")));
  await expect(strip(page)).toContainText("Everything is home.");
  const [name, bytes] = [...home.pictures][0];
  expect(home.pictures.size).toBe(1);
  expect(home.bedFacts().map((fact) => fact.picture)).toEqual([name]);
  expect([...bytes.subarray(0, 3)]).toEqual([0xff, 0xd8, 0xff]);
  expect(bytes.length).toBeLessThan(3 * 1024 * 1024);
  const sides = await page.evaluate(async (base64) => {
    const bytesOf = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytesOf], { type: "image/jpeg" }));
    return [bitmap.width, bitmap.height];
  }, bytes.toString("base64"));
  expect(sides).toEqual([1600, 1200]);

  await page
    .getByLabel(/^Picture/)
    .setInputFiles({ name: "a.png", mimeType: "image/png", buffer: Buffer.from("no") });
  await expect(page.getByRole("status").first()).toContainText("cannot read that file as a picture");
});

test("a clock a week off is told before the walk; home's day can be taken, and the skew goes with each fact", async ({
  page,
}) => {
  const home = await homeInTest(page, threeBeds());
  const week = 7 * 24 * 3_600_000;
  home.phoneAheadMs = week;
  await page.clock.install({ time: new Date(walkMoment.getTime() + week) });
  await page.goto("/walkabout");
  await page.getByLabel("Who is walking?").fill("Ivy");
  await button(page, "That is me").click();
  await expect(page.getByRole("heading", { name: "Which day is it?" })).toBeVisible();
  await expect(page.getByText("This phone's clock is 7 days ahead of home's.")).toBeVisible();
  await aMomentLater(page);
  await expectClean(page);
  await button(page, "Thu 14 Jan 2027, as at home").click();
  await expect(page.getByRole("heading", { name: /^Long bed/ })).toBeVisible();
  await aMomentLater(page);
  await button(page, "Could not look").click();
  await expect.poll(() => home.facts().length).toBe(15);
  const facts = home.facts();
  expect(new Set(facts.map((fact) => fact.seenOn))).toEqual(new Set(["2027-01-14"]));
  for (const fact of facts) expect(Math.abs((fact.clockSkewS ?? 0) - week / 1_000)).toBeLessThan(60);
});

test("a round from paper is of the sheet's day, and draws the beds as they stood then", async ({ page }) => {
  const home = await homeInTest(page, threeBeds());
  await openField(page, "/walkabout", "Who is walking?");
  await page.getByRole("button", { name: /^A1, plant 1,/ }).click();
  await button(sheet(page), "slugs").last().click();
  await expect(page.getByRole("button", { name: "A1, plant 1, gap" })).toBeVisible();
  await aMomentLater(page);
  await page.getByRole("button", { name: /^Bed 1 of/ }).click();
  await button(sheet(page), "Enter from paper").click();
  await aMomentLater(page);
  await expectClean(page);
  await sheet(page)
    .getByLabel(/^Another day/)
    .fill("7 Jan 2027");
  await button(sheet(page), "Use that day").click();
  await expect(page.getByText("From paper: Thu 7 Jan 2027")).toBeVisible();
  await expect(page.getByRole("button", { name: "A1, plant 1, standing" })).toBeVisible();
  await aMomentLater(page);
  await button(page, "The rest stand").click();
  await expect.poll(() => home.of("stand").length).toBe(15);
  const stands = home.of("stand");
  expect(new Set(stands.map((fact) => fact.seenOn))).toEqual(new Set(["2027-01-07"]));
  expect(stands.find((fact) => fact.plotId === "A1")?.amount).toBe(3);
});

test("a fact is put right or withdrawn from its plot's history; the old one stays, struck through", async ({
  page,
}) => {
  const home = await homeInTest(page, threeBeds());
  await openField(page, "/walkabout", "Who is walking?");
  await page.getByRole("button", { name: /^A2, plant 1,/ }).click();
  await button(sheet(page), "slugs").last().click();
  await expect(page.getByRole("status").first()).toContainText("A2: one plant gone to slugs.");
  await aMomentLater(page);
  await page.getByRole("button", { name: /^Open A2/ }).click();
  await button(sheet(page), "History, and putting right").click();
  await sheet(page)
    .getByRole("button", { name: /^Put right: one plant gone to slugs/ })
    .click();
  await expectClean(page);
  await sheet(page).getByLabel("Cause").selectOption("birds");
  await sheet(page).getByLabel("Amount in plants").fill("2");
  await aMomentLater(page);
  await button(sheet(page), "Write it down").click();
  await expect(sheet(page).getByText("2 plants gone to birds")).toBeVisible();
  await expect(sheet(page).locator("del")).toHaveText("one plant gone to slugs");
  await sheet(page)
    .getByRole("button", { name: /^Withdraw: 2 plants/ })
    .click();
  await aMomentLater(page);
  await button(sheet(page), "Withdraw it").click();
  await expect(sheet(page).getByRole("alert")).toContainText("Enter why");
  await sheet(page).getByLabel("Why is it withdrawn?").fill("the wrong plot");
  await aMomentLater(page);
  await button(sheet(page), "Withdraw it").click();
  await expect(sheet(page).locator("del")).toHaveCount(2);
  await button(sheet(page), "Back").click();
  await expect(page.getByRole("button", { name: /^Open A2/ })).toHaveAccessibleName(/3 of 3 standing/);
  await expect.poll(() => home.facts().length).toBe(3);
  const [lost, corrected, withdrawn] = home.facts();
  expect(corrected).toMatchObject({ kind: "loss", cause: "birds", amount: 2, replaces: lost.id });
  expect(withdrawn).toMatchObject({ kind: "withdrawn", note: "the wrong plot", replaces: corrected.id });
});

test("the left hand has what comes next under its own thumb, and the phone remembers it", async ({
  page,
}) => {
  await homeInTest(page, threeBeds());
  await openField(page, "/walkabout", "Who is walking?");
  const xOf = async (name: string) => (await button(page, name).boundingBox())?.x ?? 0;
  const left = async () => (await xOf("The rest stand")) < (await xOf("Undo"));
  expect(await left()).toBe(false);
  await strip(page).click();
  await expectClean(page);
  await button(sheet(page), "Left").click();
  await aMomentLater(page);
  await button(sheet(page), "Back").click();
  await page.reload();
  await expect(button(page, "The rest stand")).toBeVisible();
  expect(await left()).toBe(true);
});

test("what is picked by bed is weighed by bed, and no plot gets any of it", async ({ page }) => {
  const home = await homeInTest(page, threeBeds());
  await openField(page, "/weigh-in", "Who is weighing?");
  await button(page, "Everything else, by bed").click();
  await expect(page.getByText(/never enters a comparison of varieties/)).toBeVisible();
  await expectClean(page);
  await page.getByLabel("Bed", { exact: true }).selectOption("Pear border");
  await page.getByLabel(/^What was picked/).fill("leeks Wick Hill");
  for (const key of ["1", ",", "2", "kg"]) await button(page, key).click();
  await expect(page.getByText("That is 1.2 kg.")).toBeVisible();
  await button(page, "Write it down").click();
  await expect(page.getByRole("main").getByRole("listitem")).toContainText(
    "Pear border, leeks Wick Hill: 1.2 kg picked",
  );
  await expect.poll(() => home.bedFacts().length).toBe(1);
  expect(home.bedFacts()).toMatchObject([
    { bedId: "Pear border", kind: "harvest", what: "leeks Wick Hill", amount: 1200, unit: "g" },
  ]);
  expect(home.facts()).toEqual([]);
});

test("pictures stand small in the log and in the history of a plot, each the way to the whole, with room kept for it", async ({
  page,
  site,
}) => {
  const refused: string[] = [];
  page.on("console", (message) => message.type() === "error" && refused.push(message.text()));
  const headers = { origin: site.url };
  const bytes = twelveMegapixels();
  const picture = createHash("sha256").update(bytes).digest("hex");
  const pack = (await (
    await page.request.get(`/api/field-pack?contract=${contractVersion}`)
  ).json()) as FieldPack;
  const bed = pack.beds.find(({ plots }) => plots.length > 0)!;
  const [plot] = bed.plots;
  const stamp = (deviceSequence: number) => ({
    id: randomUUID(),
    deviceId: "01930000-0000-7000-8000-0000000000d1",
    deviceSequence,
    walkaboutId: null,
    seenOn: pack.today,
    recordedAt: `${pack.today}T10:00:00.000Z`,
    replaces: null,
    by: "Ivy",
    picture,
  });
  const facts = [
    {
      ...stamp(0),
      plotId: plot.id,
      cohortOn: null,
      kind: "note",
      cause: null,
      trait: null,
      part: null,
      amount: null,
      unit: null,
      note: "a picture",
    },
    {
      ...stamp(1),
      bedId: bed.id,
      kind: "note",
      what: null,
      reach: null,
      amount: null,
      unit: null,
      note: "a picture",
      clockSkewS: null,
    },
  ];
  const sent = await page.request.post("/api/observations", {
    headers,
    data: { contract: contractVersion, facts },
  });
  expect((await sent.json()).replies).toMatchObject([{ answer: "recorded" }, { answer: "recorded" }]);
  await page.goto(`/trials/${plot.trialId}/log`);
  await expect(page.getByText("(still on the phone)")).toHaveCount(2);
  const put = await page.request.put(`/api/picture/${picture}`, { headers, data: bytes });
  expect(put.ok()).toBe(true);

  for (const [path, names] of [
    [`/trials/${plot.trialId}/log`, [bed.name, `${plot.code} ${plot.variety}`]],
    [`/trials/${plot.trialId}/log/${plot.id}`, [`${plot.code} ${plot.variety}`]],
  ] as const) {
    let letCome = () => {};
    const mayCome = new Promise<void>((resolve) => {
      letCome = resolve;
    });
    await page.route(`**/api/picture/${picture}`, async (route) => {
      await mayCome;
      await route.continue();
    });
    await page.goto(path, { waitUntil: "domcontentloaded" });
    const small = names.map((name) =>
      page.getByRole("img", { name: `${name}, ${sayDay(pack.today, true)}` }),
    );
    const room = { width: 96, height: 96 };
    for (const one of small) {
      await one.scrollIntoViewIfNeeded();
      expect(await one.boundingBox()).toMatchObject(room);
    }
    letCome();
    for (const one of small) {
      await expect(one).toHaveJSProperty("naturalWidth", 4000);
      expect(await one.boundingBox()).toMatchObject(room);
      await expect(page.getByRole("link").filter({ has: one })).toHaveAttribute(
        "href",
        `/api/picture/${picture}`,
      );
    }
    await page.unroute(`**/api/picture/${picture}`);
    const { violations } = await new AxeBuilder({ page }).analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
  }
  expect(refused).toEqual([]);
});
