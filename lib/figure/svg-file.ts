import type { Figure } from "./figure";
import { text } from "./marks";
import { type SvgElement, svgElements } from "./svg-elements";

/** Room above the drawing for its title, which on a page is the caption. */
const titlePx = 32;

/**
 * A figure as an SVG file that stands alone: daylight colours, paper behind, the type in it, its title and description
 * for whoever cannot see it.
 *
 * @param fontBase64 the type as WOFF2; letters fall back to whatever is there where a program reads none from a file
 */
export function svgFile(figure: Figure, fontBase64: string): string {
  const height = Math.ceil(figure.heightPx) + titlePx;
  const family = "Atkinson Hyperlegible Next";
  const head = [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${figure.widthPx} ${height}" width="${figure.widthPx}" height="${height}" role="img">`,
    `<title>${escaped(figure.title)}</title>`,
    `<desc>${escaped(figure.description)}</desc>`,
    `<style>@font-face{font-family:"${family}";font-weight:200 800;src:url(data:font/woff2;base64,${fontBase64}) format("woff2")}text{font-family:"${family}",Verdana,"DejaVu Sans",sans-serif;font-variant-numeric:tabular-nums}</style>`,
    '<rect width="100%" height="100%" fill="var(--paper, #FCFBF7)"/>',
  ];
  const title = text(0, 20, figure.title, { bold: true });
  const drawn = [
    ...head,
    ...svgElements({ ...figure, marks: [title] }).map(written),
    `<g transform="translate(0 ${titlePx})">`,
    ...svgElements(figure).map(written),
    "</g>",
    "</svg>",
  ].join("\n");
  // Outside the page its variables say nothing: the value behind each is the daylight one.
  return `${drawn.replaceAll(/var\(--[a-z-]+, (#[0-9A-F]{6})\)/g, "$1")}\n`;
}

function written({ tag, attributes, text, children }: SvgElement): string {
  const told = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => ` ${name}="${escaped(String(value))}"`)
    .join("");
  const within = text === undefined ? (children ?? []).map(written).join("") : escaped(text);
  return within === "" ? `<${tag}${told}/>` : `<${tag}${told}>${within}</${tag}>`;
}

function escaped(text: string): string {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;")
    .replaceAll(/[^\t\n\r\u0020-\ud7ff\ue000-\ufffd]/g, "");
}
