import pmf from "@stdlib/stats-base-dists-hypergeometric-pmf";
import { insist } from "./requirement";

/** P(X = x): x of the marked among `drawn`, from a population of `population` of which `marked` are marked. */
export function hypergeometricPmf(x: number, population: number, marked: number, drawn: number): number {
  insist(
    [population, marked, drawn].every((count) => Number.isInteger(count) && count >= 0) &&
      marked <= population &&
      drawn <= population,
    "hypergeometricPmf",
    "whole numbers with marked and drawn at most the population",
    `${marked} marked and ${drawn} drawn of ${population}`,
  );
  return pmf(x, population, marked, drawn);
}
