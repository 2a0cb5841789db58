import { describe, expect, it } from "vitest";
import { readEntryList } from "@/lib/service/read-entry-list";
import { usualSowing } from "@/lib/service/usual-sowing";
import type { Day } from "@/lib/words/day";
import { given } from "./fresh-house";

const names = (text: string) => given(readEntryList(text)).map((entry) => entry.variety);

describe("a list of varieties", () => {
  it("is read one name a line", () => {
    expect(given(readEntryList("Hollin\n\nPennick\r\nTansy Mill\n"))).toEqual(
      ["Hollin", "Pennick", "Tansy Mill"].map((variety) => ({ variety, packetClaim: null, role: "entry" })),
    );
  });

  it("is read as a spreadsheet's cells are pasted, with the check and the packet's words", () => {
    expect(
      given(
        readEntryList("Hollin\tstands to -8 °C\tcheck\nPennick\t\t\nWick Hill\ta summer leaf\ttender check"),
      ),
    ).toEqual([
      { variety: "Hollin", packetClaim: "stands to -8 °C", role: "check" },
      { variety: "Pennick", packetClaim: null, role: "entry" },
      { variety: "Wick Hill", packetClaim: "a summer leaf", role: "tender-check" },
    ]);
  });

  it("is read by its headings in any order, other columns passed over", () => {
    const text = '\uFEFFyear;role;variety;packet claim\n2026;;Carrow;"red; very hardy"\n2026;Check;Hollin;\n';
    expect(given(readEntryList(text))).toEqual([
      { variety: "Carrow", packetClaim: "red; very hardy", role: "entry" },
      { variety: "Hollin", packetClaim: null, role: "check" },
    ]);
  });

  it("is refused with every fault by its line, and nothing is taken", () => {
    const text = `variety,packet claim,role\nHollin,,check\nhollin,,\n,a claim,\nPennick,,check\nCarrow,,perhaps\n${"x".repeat(81)},,\n`;
    const read = readEntryList(text);
    expect(read.ok ? [] : read.faults.map(({ place, wanted }) => [place, wanted])).toEqual([
      ["line 3", "a variety that is not in line 2 already"],
      ["line 4", "the variety’s name"],
      ["line 5", "one of that kind; line 2 is it already"],
      ["line 6", "check, tender check, or nothing"],
      ["line 7", "a name of 80 letters at most"],
    ]);
  });

  it("holds sixty at most, and one at least", () => {
    const many = (count: number) =>
      Array.from({ length: count }, (_, place) => `Seedling ${place}`).join("\n");
    expect(names(many(60))).toHaveLength(60);
    expect(readEntryList(many(61))).toMatchObject({ ok: false, faults: [{ found: "61 varieties" }] });
    expect(readEntryList("variety\n")).toMatchObject({ ok: false, faults: [{ found: "no variety" }] });
    expect(readEntryList(" \n ")).toMatchObject({ ok: false });
  });
});

describe("the sowing date reckoned back from planting", () => {
  it("is the crop's usual weeks before it, said to be common practice", () => {
    const sowing = usualSowing("Curly kale", "2027-09-18" as Day);
    expect(sowing?.sownOn).toBe("2027-08-07");
    expect(sowing?.why).toContain("about 6 weeks (common practice)");
    expect(usualSowing("Garlic", "2027-10-10" as Day)?.sownOn).toBe("2027-10-10");
  });

  it("is asked for where the crop's time is not known", () => {
    expect(usualSowing("Purslane", "2027-09-18" as Day)).toBeNull();
  });
});
