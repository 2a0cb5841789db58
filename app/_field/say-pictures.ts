/** Pictures as they are counted aloud: *one picture*, *3 pictures*. */
export function sayPictures(count: number): string {
  return count === 1 ? "one picture" : `${count} pictures`;
}
