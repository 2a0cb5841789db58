/** Where the first plot of a line lies, for somebody at the path end who looks along the bed; from `PathSide`, empty is left. */
export function firstPlotWords(pathSide: string | undefined): string {
  if (pathSide === "right") return "the first plot lies at your right hand";
  if (pathSide === "between") return "the first plot lies nearest to the path between the two beds";
  return "the first plot lies at your left hand";
}
