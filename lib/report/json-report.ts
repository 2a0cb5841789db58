import type { Caution, Survival, TrialFindings } from "@/lib/analysis/finding";

/**
 * The findings as plain JSON for other programs, numbers in full precision and null where something is not estimable
 * (a caution says why). Keys may be added later; none is ever renamed.
 */
export function jsonReport(findings: TrialFindings, unknownColumns: string[] = []): object {
  const { trial, at, survival, losses, standing, proposals } = findings;
  return {
    trial: {
      design: trial.design,
      plots: trial.plots,
      varieties: trial.varieties,
      blocks: trial.blocks,
      check: trial.check,
      assessedOn: at,
      unknownColumns,
    },
    survival: survival && {
      method: survival.method.name,
      level: survival.level,
      ...survivalParts(survival.value),
      curves: standing?.value ?? [],
      causes: findings.causes?.value ?? [],
    },
    took: findings.took && survivalParts(findings.took.value),
    wintered: findings.wintered && survivalParts(findings.wintered.value),
    losses: losses?.value ?? [],
    yield: findings.yield && {
      ...findings.yield.value,
      level: findings.yield.level,
    },
    scores: findings.scores.map((finding) => finding.value),
    counts: findings.counts.map((finding) => finding.value),
    bolting: findings.bolting?.value ?? [],
    proposals: proposals?.value ?? [],
    cautions: allCautions(findings),
  };
}

function survivalParts({ step: _, ...parts }: Survival): object {
  return parts;
}

/** Cautions of every part, each once: the trial's own first. */
export function allCautions(findings: TrialFindings): Caution[] {
  const all = [
    ...findings.cautions,
    ...(findings.survival?.cautions ?? []),
    ...(findings.yield?.cautions ?? []),
    ...(findings.proposals?.cautions ?? []),
  ];
  return [...new Map(all.map((caution) => [caution.text, caution])).values()];
}
