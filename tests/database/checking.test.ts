import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { closeDatabase } from "@/db/open";
import { checkHouse } from "@/lib/service/check-house";
import { checkPictures } from "@/lib/service/check-pictures";
import { keepPicture } from "@/lib/service/keep-picture";
import { pictureFile } from "@/lib/service/picture-file";
import { freshFolder, given, houseWithTrial, send, someFact } from "./fresh-house";

const root = join(import.meta.dirname, "..", "..");

function check(dataFolder: string): { code: number | null; said: string } {
  const run = spawnSync(process.execPath, ["--import", "tsx", join(root, "lib/command/check.ts")], {
    cwd: root,
    env: { ...process.env, PROVING_BED_DATA: dataFolder },
    encoding: "utf8",
  });
  return { code: run.status, said: run.stdout + run.stderr };
}

describe("the check of derived stands", () => {
  it("finds nothing where every stand was written with its facts", () => {
    const { house, trial } = houseWithTrial();
    send(house, [someFact(trial.plots[0].id, { kind: "loss", cause: "cold", amount: 1 })]);
    expect(checkHouse(house)).toEqual({ cohorts: 12, wrong: [] });
  });

  it("names a stand that is not what the facts say, and one that is missing, and mends nothing itself", () => {
    const { house, trial } = houseWithTrial();
    const [first, second] = trial.plots.map((plot) => `${plot.id}/2026-09-20`);
    house.database.$client.prepare("UPDATE stand SET standing = 1 WHERE cohort_id = ?").run(first);
    house.database.$client.prepare("DELETE FROM stand WHERE cohort_id = ?").run(second);
    const found = checkHouse(house).wrong;
    expect(found).toHaveLength(2);
    expect(found).toEqual(
      expect.arrayContaining([
        {
          cohortId: first,
          kept: expect.objectContaining({ standing: 1 }),
          told: expect.objectContaining({ standing: 3 }),
        },
        { cohortId: second, kept: null, told: expect.objectContaining({ standing: 3 }) },
      ]),
    );
    expect(checkHouse(house).wrong).toHaveLength(2);
  });
});

describe("the check of pictures", () => {
  const kept = () => {
    const { house } = houseWithTrial();
    const bytes = Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 1, 2, 3);
    const sha256 = createHash("sha256").update(bytes).digest("hex");
    given(keepPicture(house, sha256, bytes));
    return { house, file: pictureFile(house.dataFolder, sha256, "image/jpeg") };
  };

  it("finds nothing where every file is the one that was sent", () => {
    expect(checkPictures(kept().house)).toEqual({ pictures: 1, wrong: [] });
  });

  it("names one that is another, and one that is gone", () => {
    const { house, file } = kept();
    writeFileSync(file, "another");
    expect(checkPictures(house).wrong).toEqual([`the picture ${file} is not the one that was sent`]);
    rmSync(file);
    expect(checkPictures(house).wrong).toEqual([`the picture ${file} cannot be read (ENOENT)`]);
  });
});

describe("npm run check", () => {
  it("says that nothing is wrong and ends well, or names what is and ends badly", () => {
    const { house, trial } = houseWithTrial();
    expect(check(house.dataFolder)).toEqual({
      code: 0,
      said: "12 stands recomputed from their facts.\nNothing is wrong.\n",
    });
    house.database.$client
      .prepare("UPDATE stand SET standing = 1 WHERE cohort_id = ?")
      .run(`${trial.plots[0].id}/2026-09-20`);
    closeDatabase(house.database);
    const found = check(house.dataFolder);
    expect(found.code).toBe(1);
    expect(found.said).toContain("kept 1, the facts say 3");
  });

  it("has nothing to say of a folder without a garden", () => {
    expect(check(freshFolder())).toMatchObject({
      code: 0,
      said: expect.stringContaining("There is no garden"),
    });
  });
});
