import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { mainFigure } from "@/lib/figure/main-figure";
import {
  sentenceForInteractions,
  sentenceForTreatment,
  sentenceForTreatments,
} from "@/lib/report/sentence-for-main";
import type { trialFindings } from "@/lib/service/trial-findings";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

/** What the covers or sowing dates did that whole main plots were dealt. */
export function MainResults({ findings }: { findings: Findings }) {
  const { survival } = findings;
  const main = survival?.value.main;
  if (!survival || !main) return null;
  return (
    <Section title={main.factor === "cover" ? "What the covers did" : "What the sowing dates did"}>
      <ul className={styles.lines}>
        {main.treatments.map((share) => (
          <li key={share.treatment}>{sentenceForTreatment(main.factor, share)}</li>
        ))}
        {main.differences.map((difference) => (
          <li key={`${difference.a} ${difference.b}`}>{sentenceForTreatments(difference)}</li>
        ))}
        {main.interactions.length > 0 && <li>{sentenceForInteractions(main.interactions)}</li>}
      </ul>
      <FigureWithTable draw={(widthPx) => mainFigure(survival, { widthPx })} />
    </Section>
  );
}
