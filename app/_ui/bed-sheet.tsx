import { bedFigure } from "@/lib/figure/bed-figure";
import { bedStretches } from "@/lib/figure/bed-stretches";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";
import type { Companion, Plot } from "@/lib/words/trial";
import styles from "./bed-sheet.module.css";
import { FigureDrawing, FigureTable } from "./figure";
import { Working } from "./working";

type SheetPlot = Omit<Plot, "id"> & { variety: string; isCheck: boolean; under: string | null };

type DrawnBed = ReturnType<typeof bedStretches>[number]["bed"];

/** Widths of the drawing on a page and on a phone, as the figures of results have them. */
const wideWidthPx = 720;
const narrowWidthPx = 336;

/** A bed as it was dealt, drawn to scale with its stake codes; the same as a table, open or folded away. */
export function BedSheet({
  bed,
  plots,
  levels,
  companions,
  isTableOpen,
}: {
  bed: {
    id: string;
    name: string;
    widthMm: number;
    lengthMm: number;
    takenUp?: readonly { fromMm: number; toMm: number }[];
  };
  plots: SheetPlot[];
  /** What main plots were dealt, in the plan's order; none but in a split plot. */
  levels: string[];
  /** Each with what the main plots that it stands in are called; null in every plot. */
  companions: (Companion & { under: string | null })[];
  isTableOpen: boolean;
}) {
  const draw = (widthPx: number, part: { bed: typeof bed | DrawnBed; plots: SheetPlot[] }, id: string) =>
    bedFigure({
      id: `bed-${bed.id}-${id}`,
      title: `${part.bed.name}: what goes where`,
      description: `${part.plots.length} plots drawn to scale from the left corner at the path, each with its stake code and variety.`,
      bed: part.bed,
      levels,
      plantRows: plots[0]?.plantRows,
      companions: companions.map(({ name, under, betweenPlantsMm, sownOn }) => ({
        name,
        under,
        betweenPlantsMm,
        words: `every ${sayLengthMm(betweenPlantsMm)}, sown ${sayDay(sownOn)}`,
      })),
      plots: part.plots.map((plot) => ({ ...plot, words: `${plot.plants} plants`, shade: null })),
      wordsHeading: "to plant",
      wordsInTableOnly: true,
      widthPx,
    });
  const wide = draw(wideWidthPx, { bed, plots }, "whole");
  const stretches = bedStretches(bed, plots, wideWidthPx);
  return (
    <div className={styles.sheet}>
      <div className={styles.wide}>
        {stretches.map((stretch, place) => (
          <FigureDrawing key={stretch.bed.name} figure={draw(wideWidthPx, stretch, `wide-${place}`)} />
        ))}
      </div>
      <div className={styles.narrow}>
        <FigureDrawing figure={draw(narrowWidthPx, { bed, plots }, "narrow")} />
      </div>
      {isTableOpen ? (
        <FigureTable figure={wide} />
      ) : (
        <Working summary={`${bed.name} plot by plot`}>
          <FigureTable figure={wide} />
        </Working>
      )}
    </div>
  );
}
