/** How entries lie in blocks that are too small for all of them. */
export interface IncompleteBlocks {
  /** Blocks in which every entry stands once: a replicate. */
  blocksPerReplicate: number;
  /** Plots in the larger blocks; the smaller have one fewer. */
  plotsPerBlock: number;
  smallerBlocks: number;
}

/**
 * Divides entries into blocks of at most so many plots, as evenly as they go. Null where there would be fewer blocks in a
 * replicate than plots in a block, since then two entries must meet in every replicate; where one block holds all; or where a block would hold one alone.
 */
export function incompleteBlocks(entries: number, mostPlots: number): IncompleteBlocks | null {
  if (mostPlots < 2 || mostPlots >= entries) return null;
  const blocksPerReplicate = Math.ceil(entries / mostPlots);
  const plotsPerBlock = Math.ceil(entries / blocksPerReplicate);
  if (plotsPerBlock > blocksPerReplicate || plotsPerBlock < 2) return null;
  const smallerBlocks = blocksPerReplicate * plotsPerBlock - entries;
  if (smallerBlocks > 0 && plotsPerBlock === 2) return null;
  return { blocksPerReplicate, plotsPerBlock, smallerBlocks };
}
