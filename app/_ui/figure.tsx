import type { ReactElement } from "react";
import type { Figure } from "@/lib/figure/figure";
import { svgElements } from "@/lib/figure/svg-elements";
import { DataTable } from "./data-table";
import { DrawnElements } from "./drawn-elements";
import styles from "./figure.module.css";
import { FigureFiles } from "./figure-files";
import { Working } from "./working";

const wideWidthPx = 720;
const narrowWidthPx = 336;

/**
 * A figure with its table beneath. It is drawn twice, for a page and for a phone, and the style sheet shows one of the
 * two; the table is written once, open or folded away under some words.
 */
export function FigureWithTable({
  draw,
  tableUnder,
  files,
}: {
  draw: (widthPx: number) => Figure | null;
  tableUnder?: string;
  /** Where the figure may be had as a file, from its id; without it no file is offered. */
  files?: (figureId: string) => string;
}): ReactElement | null {
  const wide = draw(wideWidthPx);
  const narrow = draw(narrowWidthPx);
  if (!wide || !narrow) return null;
  return (
    <figure className={styles.figure}>
      <figcaption className={styles.title}>{wide.title}</figcaption>
      <div className={styles.wide}>
        <FigureDrawing figure={wide} />
      </div>
      <div className={styles.narrow}>
        <FigureDrawing figure={{ ...narrow, id: `${narrow.id}-narrow` }} />
      </div>
      {tableUnder === undefined ? (
        <FigureTable figure={wide} />
      ) : (
        <Working summary={tableUnder}>
          <FigureTable figure={wide} />
        </Working>
      )}
      {files && <FigureFiles address={files(wide.id)} title={wide.title} />}
    </figure>
  );
}

/** One figure as plain SVG; its title and description are what a screen reader says. */
export function FigureDrawing({ figure }: { figure: Figure }): ReactElement {
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      viewBox={`0 0 ${figure.widthPx} ${Math.ceil(figure.heightPx)}`}
      width={figure.widthPx}
      height={Math.ceil(figure.heightPx)}
      role="img"
      aria-labelledby={`${figure.id}-title ${figure.id}-desc`}
      className={styles.drawing}
    >
      <title id={`${figure.id}-title`}>{figure.title}</title>
      <desc id={`${figure.id}-desc`}>{figure.description}</desc>
      <DrawnElements elements={JSON.stringify(svgElements(figure))} />
    </svg>
  );
}

/** The figures of a figure as a table. */
export function FigureTable({ figure }: { figure: Figure }): ReactElement {
  return <DataTable {...figure.table} />;
}
