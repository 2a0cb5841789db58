/** A fault's place in a file, taken apart; null for one that is of no line. */
export function placeInFile(place: string): { file: string; line: string; column: string } | null {
  const match = /^(.*?):(\d+):([\s\S]*)$/.exec(place);
  return match && { file: match[1], line: match[2], column: match[3] };
}
