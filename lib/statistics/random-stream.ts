import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { insist } from "./requirement";

/** A source of random numbers that its owner seeds and hands on: the same seed gives the same numbers on any machine. */
export interface RandomStream {
  /** Uniform on [0, 1). */
  uniform(): number;
  /** A whole number from 0 to `below` − 1, each equally likely. */
  whole(below: number): number;
}

/**
 * A stream of uniform numbers from a whole seed (xoroshiro128+, by pure-rand). Statistics take the stream as an
 * argument and never reach for the machine's own chance, so the same data always give the same figures.
 *
 * The generator's first numbers are all but the same for all small seeds, and seeds that follow one another give streams
 * that rise together; so the seed's bits are mixed (the finalizer of MurmurHash3) and the first eight words thrown away.
 */
export function randomStream(seed: number): RandomStream {
  insist(Number.isInteger(seed), "randomStream", "a whole seed", seed);
  const generator = xoroshiro128plus(mixedBits(seed));
  const word = () => generator.next() >>> 0;
  for (let thrown = 0; thrown < 8; thrown += 1) word();
  return {
    uniform: () => ((word() >>> 5) * 67_108_864 + (word() >>> 6)) / 9_007_199_254_740_992,
    whole(below) {
      insist(Number.isInteger(below) && below > 0 && below <= 4_294_967_296, "whole", "1 to 2³²", below);
      // Words beyond the largest multiple of `below` are drawn again, or the low numbers would come up too often.
      const limit = 4_294_967_296 - (4_294_967_296 % below);
      let drawn = word();
      while (drawn >= limit) drawn = word();
      return drawn % below;
    },
  };
}

/** A whole number whose every bit depends on every bit of the seed; different seeds give different numbers. */
function mixedBits(seed: number): number {
  let bits = seed | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}
