import { FigureWithTable } from "@/app/_ui/figure";
import { Section } from "@/app/_ui/section";
import type { trialFindings } from "@/lib/service/trial-findings";
import type { Drawings } from "../drawings";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

/** Each bed to scale with what stands in every plot, so that a bad end of the bed shows. */
export function BedResults({
  findings,
  draws,
  files,
}: {
  findings: Findings;
  draws: Drawings["beds"];
  files: (figureId: string) => string;
}) {
  const known = findings.plots.filter((plot) => plot.standing !== null);
  if (known.length === 0) return null;
  return (
    <Section title="Plot by plot">
      <p>Darker plots lost more. A dark end of the bed says something of the bed, not of a variety.</p>
      {draws.map((draw, place) => (
        <FigureWithTable key={place} draw={draw} files={files} />
      ))}
    </Section>
  );
}
