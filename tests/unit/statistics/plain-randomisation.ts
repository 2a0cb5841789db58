import { Matrix, SVD } from "ml-matrix";
import type { Layout, PlotCount } from "@/lib/statistics/plot-count";

/** Every different order of a list, by taking each different first element in turn. */
function orders(list: string[]): string[][] {
  if (list.length === 0) return [[]];
  return [...new Set(list)].flatMap((first) => {
    const rest = [...list];
    rest.splice(list.indexOf(first), 1);
    return orders(rest).map((order) => [first, ...order]);
  });
}

/** Every deal of a layout as a list of varieties in plot order, spelled out. */
export function plainDeals(plots: PlotCount[], layout: Layout): string[][] {
  const varieties = plots.map((plot) => plot.variety);
  if (layout === "crd") return orders(varieties);
  if (layout === "latin") {
    const clash = (deal: string[], key: (plot: PlotCount) => unknown) =>
      new Set(deal.map((variety, index) => `${variety} ${key(plots[index])}`)).size < deal.length;
    const rows = [...new Set(plots.map((plot) => plot.row))];
    let deals: Map<PlotCount, string>[] = [new Map()];
    for (const row of rows) {
      const own = plots.filter((plot) => plot.row === row);
      const dealt = orders(own.map((plot) => plot.variety));
      deals = deals.flatMap((deal) =>
        dealt.map(
          (order) =>
            new Map([...deal, ...own.map((plot, index): [PlotCount, string] => [plot, order[index]])]),
        ),
      );
    }
    return deals
      .map((deal) => plots.map((plot) => deal.get(plot) ?? ""))
      .filter((deal) => !clash(deal, (plot) => plot.row) && !clash(deal, (plot) => plot.column));
  }
  let deals: string[][] = [varieties];
  for (const block of new Set(plots.map((plot) => plot.block))) {
    const own = plots.flatMap((plot, index) => (plot.block === block ? [index] : []));
    const dealt = orders(own.map((index) => varieties[index]));
    deals = deals.flatMap((deal) =>
      dealt.map((order) =>
        deal.map((variety, index) => (own.includes(index) ? order[own.indexOf(index)] : variety)),
      ),
    );
  }
  return deals;
}

/** The survival statistic of one pair in one deal, each part by its definition and the fit by a pseudo-inverse. */
function plainStatistic(
  plots: PlotCount[],
  layout: Layout,
  deal: string[],
  [a, b]: readonly [string, string],
): number {
  const dealt = plots
    .map((plot, index) => ({ ...plot, variety: deal[index] }))
    .filter((plot) => plot.setOut > 0);
  const keys: ((plot: PlotCount) => unknown)[] = [(plot) => plot.variety];
  if (layout === "rcbd") keys.push((plot) => plot.block);
  if (layout === "latin")
    keys.push(
      (plot) => plot.row,
      (plot) => plot.column,
    );
  const columns = keys.flatMap((key) =>
    [...new Set(dealt.map(key))].map((value) =>
      dealt.map((plot) => (key(plot) === value ? Math.sqrt(plot.setOut) : 0)),
    ),
  );
  const design = new Matrix(columns).transpose();
  const y = Matrix.columnVector(dealt.map((plot) => (Math.sqrt(plot.setOut) * plot.standing) / plot.setOut));
  const svd = new SVD(design, { autoTranspose: true });
  const residual = Matrix.sub(y, design.mmul(svd.inverse()).mmul(y)).norm() ** 2;
  const df = dealt.length - svd.rank;
  const total = (variety: string, value: (plot: PlotCount) => number) =>
    dealt.filter((plot) => plot.variety === variety).reduce((sum, plot) => sum + value(plot), 0);
  const u = (variety: string) => {
    const p = (total(variety, (plot) => plot.standing) + 0.5) / (total(variety, (plot) => plot.setOut) + 1);
    return p * (1 - p);
  };
  const present = [...new Set(dealt.map((plot) => plot.variety))];
  const mean = present.reduce((sum, variety) => sum + u(variety), 0) / present.length;
  const f = df > 0 ? Math.max(1, residual / df / mean) : 1;
  if (!present.includes(a) || !present.includes(b)) return 0;
  const share = (variety: string) =>
    total(variety, (plot) => plot.standing) / total(variety, (plot) => plot.setOut);
  return Math.abs(share(a) - share(b)) / Math.sqrt(f * (u(a) + u(b)));
}

/** Each pair's own p and its p within the family, by writing out every deal. */
export function plainRandomisation(plots: PlotCount[], layout: Layout, pairs: [string, string][]) {
  const deals = plainDeals(plots, layout);
  const made = pairs.map((pair) =>
    plainStatistic(
      plots,
      layout,
      plots.map((plot) => plot.variety),
      pair,
    ),
  );
  const table = deals.map((deal) => pairs.map((pair) => plainStatistic(plots, layout, deal, pair)));
  return made.map((seen, index) => ({
    p: table.filter((row) => row[index] >= seen - 1e-9).length / deals.length,
    pFamily: table.filter((row) => Math.max(...row) >= seen - 1e-9).length / deals.length,
  }));
}
