import type { ReactNode } from "react";
import styles from "./table.module.css";

export interface Column {
  heading: string;
  numeric?: boolean;
  /** Its cells stay on one line: days, say. */
  whole?: boolean;
}

function lookOf({ numeric, whole }: Column): string | undefined {
  return numeric ? styles.numeric : whole ? styles.whole : undefined;
}

/** A table with its caption. The first cell of a row is the row's heading; a wide table scrolls within itself. */
export function DataTable({
  caption,
  columns,
  rows,
  captionHidden = false,
}: {
  caption: string;
  columns: Column[];
  rows: ReactNode[][];
  captionHidden?: boolean;
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the page scrolls, and must do so by keyboard
    <section className={styles.holder} aria-label={caption} tabIndex={0}>
      <table className={styles.table}>
        <caption className={captionHidden ? styles.hidden : undefined}>{caption}</caption>
        <thead>
          <tr>
            {columns.map((column, position) => (
              <th key={position} scope="col" className={lookOf(column)}>
                {column.heading}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, place) => (
            <tr key={place}>
              {row.map((cell, position) =>
                position === 0 ? (
                  <th key={position} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={position} className={lookOf(columns[position])}>
                    {cell}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
