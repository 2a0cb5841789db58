import { describe, expect, it } from "vitest";
import { parseDegrees } from "@/lib/words/coordinate";

const latitude = (text: string) => parseDegrees(text, "latitude", "latitude");
const longitude = (text: string) => parseDegrees(text, "longitude", "longitude");

describe("typed degrees", () => {
  it.each([
    ["54.2", 54.2],
    ["54,2° N", 54.2],
    ["33 s", -33],
    ["−33.5", -33.5],
  ])("reads latitude %s", (text, degrees) => expect(latitude(text)).toEqual({ ok: true, value: degrees }));

  it("puts west below nought", () => {
    expect(longitude("2.3 W")).toEqual({ ok: true, value: -2.3 });
  });

  it.each(["", "north", "54.2 E", "90.1", "-33 S", "−2 N", "1,200"])("refuses latitude “%s”", (text) => {
    expect(latitude(text)).toMatchObject({ ok: false, faults: [{ place: "latitude" }] });
  });

  it("refuses what lies off the globe", () => {
    expect(longitude("180.5")).toMatchObject({ ok: false });
    expect(longitude("180 W")).toEqual({ ok: true, value: -180 });
  });
});
