import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { GET as getPicture, PUT as putPicture } from "@/app/api/picture/[sha256]/route";
import { bedsView } from "@/lib/service/beds-view";
import { fieldPack } from "@/lib/service/field-pack";
import { shareHouse } from "@/lib/service/house";
import { keepPicture } from "@/lib/service/keep-picture";
import { receiveObservations } from "@/lib/service/receive-observations";
import { trialFindings } from "@/lib/service/trial-findings";
import { trialLog } from "@/lib/service/trial-log";
import { trialRecord } from "@/lib/service/trial-record";
import { contractVersion } from "@/lib/sync/contract";
import type { BedFact } from "@/lib/words/bed-fact";
import type { Day } from "@/lib/words/day";
import { mostPictureBytes } from "@/lib/words/picture";
import { given, houseWithTrial, send, someBedFact, someFact } from "./fresh-house";

function walkedHouse() {
  const made = houseWithTrial();
  const { id: bedId } = fieldPack(made.house).beds[0];
  return { ...made, bedId, plotId: made.trial.plots[0].id };
}

describe("facts of a bed", () => {
  it("come by the same route as facts of plots, and sending again changes nothing", () => {
    const { house, bedId, plotId } = walkedHouse();
    const facts = [
      someFact(plotId),
      someBedFact(bedId),
      someBedFact(bedId, { kind: "lowest", what: null, reach: null, amount: -35, unit: "tenths-c" }),
    ];
    expect(send(house, facts).map((reply) => reply.answer)).toEqual(["recorded", "recorded", "recorded"]);
    expect(send(house, facts.toReversed()).map((reply) => reply.answer)).toEqual(Array(3).fill("already"));
    expect(fieldPack(house).bedFacts).toEqual(facts.slice(1));
  });

  it.each<[string, Partial<BedFact>, string]>([
    ["a bed that is not of this garden", { bedId: "elsewhere" }, "bedId"],
    ["a cover that is ajar", { kind: "cover", what: "ajar" }, "what"],
    ["a lowest without its figure", { kind: "lowest", what: null }, "amount"],
    ["a temperature of 80 degrees", { kind: "lowest", what: null, amount: 800, unit: "tenths-c" }, "amount"],
    ["half a gram", { kind: "harvest", amount: 0.5, unit: "g" }, "amount"],
    ["a weight below nothing", { kind: "harvest", amount: -1, unit: "g" }, "amount"],
    ["a note without words", { kind: "note", what: null }, "note"],
    ["a picture that is no hash", { picture: "../../garden.sqlite" }, "picture"],
  ])("are refused for %s and say where", (_, changes, place) => {
    const { house, bedId } = walkedHouse();
    expect(send(house, [someBedFact(bedId, changes)])).toMatchObject([{ answer: "refused", place }]);
  });

  it("share one run of ids with facts of plots", () => {
    const { house, bedId, plotId } = walkedHouse();
    const ofPlot = someFact(plotId);
    const ofBed = someBedFact(bedId, { id: ofPlot.id });
    expect(send(house, [ofPlot, ofBed])).toMatchObject([
      { answer: "recorded" },
      { answer: "refused", place: "id" },
    ]);
    const { database } = house;
    const copy = database.$client.prepare(
      `INSERT INTO bed_observation (id, device_id, device_seq, bed_id, kind, seen_on, recorded_at, received_at, body_hash, "by")
       SELECT id, device_id, device_seq, ?, 'looked', seen_on, recorded_at, received_at, body_hash, "by" FROM observation`,
    );
    expect(() => copy.run(bedId)).toThrow(/names a fact of a plot/);
  });

  it("are never changed or deleted", () => {
    const { house, bedId } = walkedHouse();
    send(house, [someBedFact(bedId)]);
    for (const change of ["UPDATE bed_observation SET what = 'fed'", "DELETE FROM bed_observation"])
      expect(() => house.database.$client.prepare(change).run()).toThrow(/append only/);
  });

  it("and the skew of the phone's clock are kept; without one a fact is what it was by the first contract", () => {
    const { house, bedId, plotId } = walkedHouse();
    const old = someFact(plotId);
    const skewed = someFact(plotId, { clockSkewS: 604_800 });
    const batch = { contract: contractVersion - 1, facts: [old] };
    expect(given(receiveObservations(house, batch)).replies).toMatchObject([{ answer: "recorded" }]);
    expect(send(house, [{ ...old, clockSkewS: null, picture: null }])).toMatchObject([{ answer: "already" }]);
    send(house, [skewed, someBedFact(bedId, { clockSkewS: -7 })]);
    expect(fieldPack(house).facts.map((fact) => fact.clockSkewS)).toEqual([undefined, 604_800]);
    expect(fieldPack(house).bedFacts.map((fact) => fact.clockSkewS)).toEqual([-7]);
  });

  it("stand in the log of the bed's trial, struck through once corrected, and beside the bed", () => {
    const { house, trialId, bedId, plotId } = walkedHouse();
    const wrong = someBedFact(bedId, { kind: "cover", what: "open", reach: null });
    const right = someBedFact(bedId, { kind: "cover", what: "shut", reach: null, replaces: wrong.id });
    send(house, [someFact(plotId), wrong, right, someBedFact(bedId, { reach: "part" })]);
    expect(trialLog(house, trialId).bedLines.map((line) => [line.bedName, line.what, line.state])).toEqual([
      ["East bed", "watered", "in force"],
      ["East bed", "shut", "in force"],
      ["East bed", "open", "corrected"],
    ]);
    expect(bedsView(house).beds[0].lately.map((fact) => fact.what)).toEqual(["watered", "shut"]);
  });

  it("are shown once in a log of several pages", () => {
    const { house, trialId, bedId, plotId } = walkedHouse();
    const days = Array.from({ length: 130 }, (_, index) => (index < 90 ? "2026-11-24" : "2026-11-23") as Day);
    send(
      house,
      days.slice(0, 90).map((seenOn) => someFact(plotId, { seenOn })),
    );
    send(
      house,
      days.slice(90).map((seenOn) => someFact(plotId, { seenOn })),
    );
    const told = ["2026-11-25", "2026-11-24", "2026-11-23", "2026-11-01"] as Day[];
    send(
      house,
      told.map((seenOn) => someBedFact(bedId, { seenOn })),
    );
    const first = trialLog(house, trialId);
    const second = trialLog(house, trialId, first.nextBefore ?? undefined);
    const shown = [first, second].map((page) => page.bedLines.map((line) => line.seenOn));
    expect(shown).toEqual([["2026-11-25", "2026-11-24", "2026-11-23"], ["2026-11-01"]]);
  });
});

describe("what was done to part of a trial only", () => {
  it("reaches the analysis as a caution; what was done to all of it on a day does not", () => {
    const twoBeds = [
      { name: "East bed", widthMm: 1_200, lengthMm: 2_500 },
      { name: "West bed", widthMm: 1_200, lengthMm: 2_500 },
    ];
    const { house, trialId } = houseWithTrial({ beds: twoBeds });
    const [east, west] = fieldPack(house).beds.map((bed) => bed.id);
    send(house, [
      someBedFact(east, { what: "watered" }),
      someBedFact(west, { what: "watered" }),
      someBedFact(east, { what: "fed" }),
      someBedFact(west, { what: "mulched", reach: "part" }),
    ]);
    const record = trialRecord(house, trialId);
    expect(record?.treatedInPart).toEqual([
      { what: "fed", place: "East bed", on: "2026-11-25" },
      { what: "mulched", place: "part of West bed", on: "2026-11-25" },
    ]);
    expect(trialFindings(house, trialId)?.cautions.map((one) => one.text)).toContain(
      "Done to part of the trial only: fed (East bed, Wed 25 Nov) and mulched (part of West bed, Wed 25 Nov). What it did cannot be told from what the plots did there.",
    );
  });
});

describe("the field pack", () => {
  it("holds every bed; one of the first contract only those that its phones can draw", () => {
    const { house } = houseWithTrial({
      plantedOn: "2026-11-30",
      assessments: [{ name: "regrowth", dueOn: "2027-03-20" }],
    });
    expect(fieldPack(house).beds.map((bed) => [bed.name, bed.plots.length])).toEqual([["East bed", 0]]);
    expect(fieldPack(house, 1).beds).toEqual([]);
  });
});

describe("a picture", () => {
  const jpeg = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), Buffer.from("invented")]);
  const nameOf = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

  it("is a file beside the garden's under its own hash, and sending it again changes nothing", () => {
    const { house } = houseWithTrial();
    const name = nameOf(jpeg);
    expect(keepPicture(house, name, jpeg)).toEqual({ ok: true, value: { answer: "recorded" } });
    expect(keepPicture(house, name, jpeg)).toEqual({ ok: true, value: { answer: "already" } });
    const folder = join(house.dataFolder, "pictures");
    expect(readdirSync(folder)).toEqual([`${name}.jpg`]);
    expect(readFileSync(join(folder, `${name}.jpg`))).toEqual(jpeg);
    expect(house.database.$client.prepare("SELECT sha256, media_type, bytes FROM picture").all()).toEqual([
      { sha256: name, media_type: "image/jpeg", bytes: jpeg.length },
    ]);
  });

  it.each([
    ["another hash", jpeg, "0".repeat(64)],
    ["a name that is no hash", jpeg, "../garden.sqlite"],
    ["a page", Buffer.from("<script>alert(1)</script>"), null],
    ["nothing", Buffer.alloc(0), null],
    ["too much", Buffer.concat([jpeg, Buffer.alloc(mostPictureBytes)]), null],
  ])("is refused for %s, and nothing of it stays", (_, bytes, name) => {
    const { house } = houseWithTrial();
    expect(keepPicture(house, name ?? nameOf(bytes), bytes).ok).toBe(false);
    expect(readdirSync(house.dataFolder)).not.toContain("pictures");
    expect(house.database.$client.prepare("SELECT count(*) FROM picture").pluck().get()).toBe(0);
  });

  it("goes in and out by its route, and comes back as nothing but a picture", async () => {
    const { house } = houseWithTrial();
    shareHouse(house);
    const name = nameOf(jpeg);
    const context = { params: Promise.resolve({ sha256: name }) };
    const address = `http://127.0.0.1:3000/api/picture/${name}`;
    const ask = () => getPicture(new Request(address), context);
    expect((await ask()).status).toBe(404);
    const put = await putPicture(new Request(address, { method: "PUT", body: jpeg }), context);
    expect([put.status, await put.json()]).toEqual([200, { answer: "recorded" }]);
    const answer = await ask();
    expect(answer.headers.get("Content-Type")).toBe("image/jpeg");
    expect(answer.headers.get("Content-Security-Policy")).toBe("default-src 'none'; sandbox");
    expect(answer.headers.get("Cache-Control")).toBe("private, max-age=31536000, immutable");
    expect(Buffer.from(await answer.arrayBuffer())).toEqual(jpeg);
  });
});
