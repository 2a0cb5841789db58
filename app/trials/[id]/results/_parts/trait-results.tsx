import { DataTable } from "@/app/_ui/data-table";
import styles from "@/app/_ui/page.module.css";
import { Section } from "@/app/_ui/section";
import { Working } from "@/app/_ui/working";
import {
  sentenceForCountDifference,
  sentenceForScoreDifference,
  sentenceForScores,
} from "@/lib/report/sentence-for-traits";
import type { trialFindings } from "@/lib/service/trial-findings";
import { sayDay } from "@/lib/words/day";
import { sayDecimal, sayP } from "@/lib/words/say-number";
import { Sources } from "./survival-working";

type Findings = NonNullable<ReturnType<typeof trialFindings>>;

/** What was scored and counted besides plants and weights, trait by trait. */
export function TraitResults({ findings }: { findings: Findings }) {
  const { scores, counts } = findings;
  return (
    <>
      {scores.map(({ value, method }) => (
        <Section key={`${value.trait} ${value.unit}`} title={`Scored: ${value.trait}`}>
          <p className={styles.soft}>On {sayDay(value.day, true)}; a high score is much of it.</p>
          <ul className={styles.lines}>
            {value.varieties.map((own) => (
              <li key={own.variety}>{sentenceForScores(own, value.unit)}</li>
            ))}
          </ul>
          {value.differences.length > 0 && (
            <ul className={styles.lines}>
              {value.differences.map((difference) => (
                <li key={difference.variety}>
                  {sentenceForScoreDifference(
                    difference,
                    Math.min(
                      ...value.varieties
                        .filter(({ variety }) => [difference.variety, difference.reference].includes(variety))
                        .map(({ plots }) => plots),
                    ),
                  )}
                </li>
              ))}
            </ul>
          )}
          <Working>
            <DataTable
              caption={`Scores of ${value.trait} by plot: how often the variety is the higher, and van Elteren’s test within blocks`}
              columns={[
                { heading: "variety" },
                { heading: "against" },
                { heading: "higher", numeric: true },
                { heading: "z", numeric: true },
                { heading: "p", numeric: true },
              ]}
              rows={value.differences.map((difference) => [
                difference.variety,
                difference.reference,
                difference.superiority === null ? "–" : sayDecimal(difference.superiority, 2),
                difference.z === null ? "–" : sayDecimal(difference.z, 2),
                difference.p === null ? "–" : sayP(difference.p),
              ])}
            />
            {value.progress && (
              <DataTable
                caption={`Area under the progress curve of ${value.trait}, score × days, over ${value.progress.days.length} days of scoring`}
                columns={[
                  { heading: "variety" },
                  { heading: "mean", numeric: true },
                  { heading: "from", numeric: true },
                  { heading: "to", numeric: true },
                ]}
                rows={value.progress.varieties.map((mean) => [
                  mean.variety,
                  ...[mean.mean, mean.low, mean.high].map((figure) =>
                    figure === null ? "–" : sayDecimal(figure, 1),
                  ),
                ])}
              />
            )}
            <Sources sources={method.sources} />
          </Working>
        </Section>
      ))}
      {counts.map(({ value, method }) => (
        <Section key={value.trait} title={`Counted: ${value.trait}`}>
          <DataTable
            caption={`${value.trait} per ${value.per}, with 95 % limits`}
            columns={[
              { heading: "variety" },
              { heading: "plots", numeric: true },
              { heading: "counted", numeric: true },
              { heading: "rate", numeric: true },
              { heading: "from", numeric: true },
              { heading: "to", numeric: true },
            ]}
            rows={value.varieties.map((own) => [
              own.variety,
              String(own.plots),
              String(own.count),
              ...[own.rate, own.low, own.high].map((rate) => (rate === null ? "–" : sayDecimal(rate, 2))),
            ])}
          />
          <ul className={styles.lines}>
            {value.differences.map((difference) => (
              <li key={difference.variety}>{sentenceForCountDifference(difference)}</li>
            ))}
          </ul>
          <Working>
            <p>
              {method.name}.{" "}
              {value.dispersion === null
                ? "No plots to spare to judge the scatter by."
                : `Counts scatter ${sayDecimal(value.dispersion, 2)} times as much as independent ones would, on ${value.residualDf} degrees of freedom.`}
            </p>
            <Sources sources={method.sources} />
          </Working>
        </Section>
      ))}
    </>
  );
}
