import { describe, expect, it } from "vitest";
import { GET as getFieldPack } from "@/app/api/field-pack/route";
import { GET as getHealth } from "@/app/api/health/route";
import { POST as postObservations } from "@/app/api/observations/route";
import { shareHouse } from "@/lib/service/house";
import { batchLimit, contractVersion } from "@/lib/sync/contract";
import { freshHouse, houseWithTrial, someFact } from "./fresh-house";

const origin = "http://127.0.0.1:3000";

function post(body: string): Promise<Response> {
  return postObservations(new Request(`${origin}/api/observations`, { method: "POST", body }));
}

function pack(known?: string): Response {
  const headers: HeadersInit = known === undefined ? {} : { "If-None-Match": known };
  return getFieldPack(new Request(`${origin}/api/field-pack`, { headers }));
}

function sharedTrial() {
  const made = houseWithTrial();
  shareHouse(made.house);
  return made;
}

describe("POST /api/observations", () => {
  it("answers for each fact by its id, and is never kept by a cache", async () => {
    const { trial } = sharedTrial();
    const facts = [someFact(trial.plots[0].id), someFact("nowhere")];
    const answer = await post(JSON.stringify({ contract: contractVersion, facts }));
    expect(answer.status).toBe(200);
    expect(answer.headers.get("Cache-Control")).toBe("no-store");
    expect(await answer.json()).toEqual({
      contract: contractVersion,
      serverTime: "2026-11-25T09:00:00.000Z",
      replies: [
        { id: facts[0].id, answer: "recorded" },
        { id: facts[1].id, answer: "refused", place: "plotId", found: "nowhere", wanted: expect.any(String) },
      ],
    });
  });

  it.each(["", "{", "[]", "null", '{"contract":1}', '{"contract":1,"facts":{}}'])(
    "answers 400 to %j and takes nothing of it",
    async (body) => {
      sharedTrial();
      const answer = await post(body);
      expect(answer.status).toBe(400);
      expect(await answer.json()).toMatchObject({ faults: [{ wanted: expect.any(String) }] });
    },
  );

  it("answers 413 to more bytes than the contract allows, counted as they travel", async () => {
    const { house, trial } = sharedTrial();
    const note = "é".repeat(10_000);
    const facts = Array.from({ length: 20 }, () => someFact(trial.plots[0].id, { note }));
    const body = JSON.stringify({ contract: contractVersion, facts });
    expect(body.length).toBeLessThan(batchLimit.bytes);
    expect((await post(body)).status).toBe(413);
    expect(house.database.$client.prepare("SELECT count(*) FROM observation").pluck().get()).toBe(0);
  });
});

describe("GET /api/field-pack", () => {
  it("is told apart by its version, and not sent again to a phone that has it", async () => {
    const { trial } = sharedTrial();
    const first = pack();
    const tag = first.headers.get("ETag") ?? "";
    expect(await first.json()).toMatchObject({ version: tag.slice(1, -1), gardenName: "Hazel Clough" });
    for (const known of [tag, `W/${tag}`, `"other", ${tag}`]) {
      const again = pack(known);
      expect([again.status, await again.text()]).toEqual([304, ""]);
    }
    await post(JSON.stringify({ contract: contractVersion, facts: [someFact(trial.plots[0].id)] }));
    expect(pack(tag).status).toBe(200);
  });
});

describe("GET /api/health", () => {
  it("says that the file can be read, and whether it is empty", async () => {
    shareHouse(freshHouse());
    expect(await getHealth().json()).toEqual({ ready: true, empty: true });
    sharedTrial();
    expect(await getHealth().json()).toEqual({ ready: true, empty: false });
  });
});
