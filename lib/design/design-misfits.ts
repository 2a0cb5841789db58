import type { Fault } from "@/lib/words/fault";
import type { FitRequest } from "./fit-bed";
import { incompleteBlocks } from "./incomplete-blocks";

/** The most plots that two replicates of small blocks may hold: as many as there are blocks in a replicate. */
function mostInSmallBlocks(entries: number): number {
  return Math.max(2, Math.floor(Math.sqrt(entries)));
}

/** What a design asks for that the numbers do not give, whatever the bed; every fault with its field. */
export function designMisfits(request: FitRequest): Fault[] {
  const { design, entries, blocks, levels = 0, checks = 0, plotsPerBlock } = request;
  const fault = (place: string, found: string, wanted: string): Fault[] => [{ place, found, wanted }];
  if (design === "latin") {
    if (blocks !== entries)
      return fault(
        "blocks",
        `${blocks} blocks of ${entries} varieties`,
        `${entries}: a Latin square has as many rows as varieties`,
      );
    if (entries < 3 || entries > 9)
      return fault("design", `a Latin square of ${entries}`, "three to nine varieties, or blocks");
  }
  if (design === "split-plot" && levels < 2)
    return fault("levels", `${levels} to be dealt to main plots`, "at least two covers, or two sowing dates");
  if (design === "augmented") {
    if (checks < 1)
      return fault(
        "entries.check",
        "nothing",
        "a check, to be set out in every block among the new varieties",
      );
    if (blocks < 2)
      return fault("blocks", `${blocks}`, "at least 2, so that the check shows how ground differs");
    if (entries - checks < blocks)
      return fault(
        "blocks",
        `${blocks} blocks for ${entries - checks} new varieties`,
        `${Math.max(2, entries - checks)} at most, or an ordinary trial in blocks`,
      );
  }
  if (design === "incomplete-blocks") {
    if (blocks < 2)
      return fault("blocks", `${blocks}`, "at least 2 replicates, or no two varieties can be compared");
    if (plotsPerBlock === undefined || !incompleteBlocks(entries, plotsPerBlock)) {
      const most = mostInSmallBlocks(entries);
      const wanted =
        entries < 4 || !incompleteBlocks(entries, most)
          ? "four varieties or more, or whole blocks"
          : `${most} or fewer of ${entries} varieties, so that there are as many blocks in a replicate as plots in a block`;
      return fault("plotsPerBlock", `${plotsPerBlock ?? "no"} plots in a block`, wanted);
    }
  }
  return [];
}
