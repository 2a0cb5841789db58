import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import {
  sentenceForInteractions,
  sentenceForTreatment,
  sentenceForTreatments,
} from "@/lib/report/sentence-for-main";
import { sentenceForVariety } from "@/lib/report/sentence-for-variety";
import type { trialFindings } from "@/lib/service/trial-findings";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayUnder } from "@/lib/words/say-under";
import { factorWords } from "@/lib/words/trial";
import type { Drawings } from "../drawings";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

/** What the covers or sowing dates did that whole main plots were dealt, and how every variety stood under each. */
export function MainResults({
  findings,
  under,
  draw,
  files,
}: {
  findings: Findings;
  under: string | null;
  draw: Drawings["main"];
  files: (figureId: string) => string;
}) {
  const { survival } = findings;
  const main = survival?.value.main;
  if (!main) return null;
  return (
    <Section title={`What the ${factorWords[main.factor].many} did`}>
      <ul className={styles.lines}>
        {main.treatments.map((share) => (
          <li key={share.treatment}>{sentenceForTreatment(share)}</li>
        ))}
        {main.differences.map((difference) => (
          <li key={`${difference.a} ${difference.b}`}>{sentenceForTreatments(difference)}</li>
        ))}
        {main.interactions.length > 0 && <li>{sentenceForInteractions(main)}</li>}
      </ul>
      {main.treatments
        .filter(({ treatment }) => treatment === under)
        .map(({ treatment }) => (
          <div key={treatment}>
            <h3>
              {beginSentence(sayUnder(treatment))}
              {main.factor !== "companion" && " alone"}
            </h3>
            <ul className={styles.lines}>
              {main.cells
                .filter((cell) => cell.treatment === treatment)
                .map((cell) => (
                  <li key={cell.variety}>{sentenceForVariety(cell)}</li>
                ))}
            </ul>
          </div>
        ))}
      <FigureWithTable draw={draw} files={files} />
    </Section>
  );
}
