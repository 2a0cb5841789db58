import { readFileSync } from "node:fs";
import { join } from "node:path";
import { renderToStaticMarkup } from "react-dom/server";
import { describe, expect, it } from "vitest";
import { GET as getGardenFile } from "@/app/files/garden-file/route";
import FilesPage from "@/app/files/page";
import { backUp } from "@/lib/service/back-up";
import { filesView } from "@/lib/service/files-view";
import { shareHouse } from "@/lib/service/house";
import { openCopy } from "@/lib/service/open-copy";
import { putBackView } from "@/lib/service/put-back-view";
import { houseWithTrial } from "./fresh-house";

describe("the files", () => {
  it("say the day and time of a backup by the garden's clock", async () => {
    const { house } = houseWithTrial();
    expect(filesView(house).last).toBeNull();
    house.at = "2026-07-01T23:30:00.000Z" as typeof house.at;
    const name = await backUp(house);
    expect(filesView(house).last).toEqual({ madeOn: "2026-07-02", time: "00:30" });
    expect(putBackView(house).copies).toMatchObject([{ name, madeOn: "2026-07-02", time: "00:30" }]);
  });

  it("begin with the last good backup, and offer every trial", async () => {
    const { house, trialId } = houseWithTrial();
    shareHouse(house);
    expect(renderToStaticMarkup(FilesPage())).toContain("There is no backup yet.");
    await backUp(house);
    house.at = "2026-11-27T09:00:00.000Z" as typeof house.at;
    const page = renderToStaticMarkup(FilesPage());
    const words = page.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
    expect(words).toMatch(/^ ?Files Last good backup: Wed 25 Nov 2026 at 09:00, 2 days ago\./);
    expect(page).toContain(`href="/trials/${trialId}/export"`);
  });

  it("hand out the whole garden, as it is in a copy made then", async () => {
    const { house } = houseWithTrial();
    shareHouse({ ...house, backUp: () => backUp(house) });
    const answer = await getGardenFile();
    const name = putBackView(house).copies[0].name;
    expect(answer.headers.get("Content-Disposition")).toBe(`attachment; filename="${name}"`);
    const kept = readFileSync(join(house.dataFolder, "backups", name));
    expect(Buffer.from(await answer.arrayBuffer()).equals(kept)).toBe(true);
  });

  it("say so in plain words when the copy cannot be made", async () => {
    const { house } = houseWithTrial();
    const told: unknown[] = [];
    const report = (fault: unknown) => told.push(fault);
    shareHouse({ ...house, report, backUp: () => Promise.reject(new Error("the disk is full")) });
    const answer = await getGardenFile();
    expect(answer.status).toBe(503);
    expect(await answer.text()).toContain("nothing is lost");
    expect(told).toHaveLength(1);
  });

  it.each([
    "../garden.sqlite",
    "garden.sqlite",
    "garden-2026-11-25T09-00-00-000Z.sqlite/../../garden.sqlite",
  ])("reach nothing by the name %s", (name) => expect(openCopy(houseWithTrial().house, name)).toBeNull());
});
