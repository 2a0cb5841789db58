import { FigureWithTable } from "@/app/_ui/figure";
import { bedFigure } from "@/lib/figure/bed-figure";
import type { Plot } from "@/lib/words/trial";
import styles from "./page.module.css";

type SheetPlot = Omit<Plot, "id"> & { variety: string; isCheck: boolean };

/** A bed as it was dealt, drawn to scale with its stake codes, and the same as a table. */
export function BedSheet({
  bed,
  plots,
}: {
  bed: { id: string; name: string; widthMm: number; lengthMm: number };
  plots: SheetPlot[];
}) {
  const description = `${plots.length} plots drawn to scale from the left corner at the path, each with its stake code and variety.`;
  const request = {
    id: `bed-${bed.id}`,
    title: `${bed.name}: what goes where`,
    description,
    bed,
    plots: plots.map((plot) => ({ ...plot, words: `${plot.plants} plants`, shade: null })),
    wordsHeading: "to plant",
  };
  return (
    <div className={styles.sheet}>
      <FigureWithTable draw={(widthPx) => bedFigure({ ...request, widthPx })} />
    </div>
  );
}
