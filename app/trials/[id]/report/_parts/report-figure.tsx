import { FigureDrawing } from "@/app/_ui/figure";
import figureStyles from "@/app/_ui/figure.module.css";
import type { Figure } from "@/lib/figure/figure";
import styles from "../report.module.css";

/** The width that the drawing on paper is made for; on a phone the page shows a narrower one. */
const paperWidthPx = 640;
const narrowWidthPx = 336;

/** A figure without its table: a report's tables stand in its appendix. */
export function ReportFigure({ draw }: { draw: (widthPx: number) => Figure | null }) {
  const wide = draw(paperWidthPx);
  const narrow = draw(narrowWidthPx);
  if (!wide || !narrow) return null;
  return (
    <figure className={`${figureStyles.figure} ${styles.figure}`}>
      <figcaption className={figureStyles.title}>{wide.title}</figcaption>
      <div className={figureStyles.wide}>
        <FigureDrawing figure={wide} />
      </div>
      <div className={figureStyles.narrow}>
        <FigureDrawing figure={{ ...narrow, id: `${narrow.id}-narrow` }} />
      </div>
    </figure>
  );
}
