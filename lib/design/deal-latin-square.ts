import { randomStream } from "@/lib/statistics/random-stream";
import { shuffled } from "./shuffled";

type Square = number[][];

/** Up to this order every square that there is can be dealt; beyond it, those of one family. */
const largestListed = 5;

/** All squares of an order whose first row and first column stand in order: 1, 1, 1, 4 and 56 for orders 1 to 5. */
function reducedSquares(order: number): Square[] {
  const squares: Square[] = [];
  const square: Square = Array.from({ length: order }, (_, row) =>
    Array.from({ length: order }, (__, column) => (row === 0 ? column : column === 0 ? row : -1)),
  );
  const fill = (place: number): void => {
    if (place === order * order) {
      squares.push(square.map((row) => [...row]));
      return;
    }
    const row = Math.floor(place / order);
    const column = place % order;
    if (square[row][column] !== -1 && (row === 0 || column === 0)) {
      fill(place + 1);
      return;
    }
    for (let letter = 0; letter < order; letter += 1) {
      if (square[row].includes(letter)) continue;
      if (square.some((line) => line[column] === letter)) continue;
      square[row][column] = letter;
      fill(place + 1);
      square[row][column] = -1;
    }
  };
  fill(0);
  return squares;
}

function cyclicSquare(order: number): Square {
  return Array.from({ length: order }, (_, row) =>
    Array.from({ length: order }, (__, column) => (row + column) % order),
  );
}

/**
 * Deals a Latin square: every variety once in each row and once in each column of plots, so that ground which changes
 * along the bed and across it favours none.
 *
 * Up to five varieties every square there is comes up equally often: a square in standard order is drawn, then its rows,
 * columns and letters are shuffled. From six on the start is the cyclic square, which gives every square got from it by
 * exchanging whole rows, whole columns and letters; the results re-deal the same family.
 *
 * @param entries ids of the varieties
 * @param seed whole number; the same seed gives the same deal on any machine
 * @returns rows of ids
 *
 * Source: fisher-1935, chapter 5.
 * Checked: tests/property/further-designs.test.ts (validity; all 12 squares of order 3 and 576 of order 4 equally often).
 */
export function dealLatinSquare(entries: readonly string[], seed: number): string[][] {
  const stream = randomStream(seed);
  const order = entries.length;
  const squares = order <= largestListed ? reducedSquares(order) : [cyclicSquare(order)];
  const square = squares[stream.whole(squares.length)];
  const letters = shuffled(entries, stream);
  const lines = entries.map((_, line) => line);
  const columns = shuffled(lines, stream);
  return shuffled(lines, stream).map((row) => columns.map((column) => letters[square[row][column]]));
}
