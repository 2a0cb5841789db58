import { DataTable } from "@/app/_ui/data-table";
import { FigureWithTable } from "@/app/_ui/figure";
import styles from "@/app/_ui/page.module.css";
import { redealtFigure } from "@/lib/figure/redealt-figure";
import { openHouse } from "@/lib/service/house";
import type { FindingsQuestion } from "@/lib/service/trial-findings";
import { wholeFindings } from "@/lib/service/whole-findings";
import { saySmallestPLimit } from "@/lib/words/say-layout-reach";
import { sayP, sayPoints, saySigned } from "@/lib/words/say-number";

interface Told {
  variety: string;
  reference: string;
  effect: string;
  p: number;
  pFamily: number | null;
}

type Whole = NonNullable<Awaited<ReturnType<typeof wholeFindings>>>;

function survivalTold({ survival }: Whole): Told[] {
  return (survival?.value.differences ?? []).flatMap(({ variety, reference, estimate, p, pFamily }) =>
    p === null || estimate === null ? [] : [{ variety, reference, effect: sayPoints(estimate), p, pFamily }],
  );
}

function yieldTold(whole: Whole): Told[] {
  const analysis = whole.yield?.value;
  return (analysis?.working.randomisation ?? []).flatMap(({ variety, p, pFamily }) => {
    const difference = analysis?.differences.find((one) => one.variety === variety);
    if (!difference || difference.estimate === null) return [];
    const effect = saySigned(difference.estimate, difference.se);
    return [{ variety, reference: difference.reference, effect, p, pFamily }];
  });
}

/**
 * Could it be the luck of the draw? The layout dealt again thousands of times takes longer than the page, so this part
 * comes after it. No p without its effect beside it.
 */
export async function LuckOfTheDraw({
  trialId,
  question,
  of,
  effectHeading,
}: {
  trialId: string;
  question: FindingsQuestion;
  of: "survival" | "yield";
  effectHeading: string;
}) {
  const house = openHouse();
  let whole: Whole | null;
  try {
    whole = await wholeFindings(house, trialId, question);
  } catch (fault) {
    house.report?.(fault);
    return <p>The layout could not be dealt again just now; everything else on this page stands.</p>;
  }
  const told = whole ? (of === "survival" ? survivalTold(whole) : yieldTold(whole)) : [];
  const smallestP = whole?.survival?.value.smallestP ?? null;
  if (told.length === 0) return null;
  const redealt = of === "survival" ? (whole?.survival?.value.working.redealt ?? null) : null;
  return (
    <>
      {redealt && <FigureWithTable draw={(widthPx) => redealtFigure(redealt, { widthPx })} />}
      <DataTable
        caption={`Could the differences in ${of} be the luck of the draw? Dealing the varieties to the plots again, as the layout was dealt`}
        columns={[
          { heading: "variety" },
          { heading: "against" },
          { heading: effectHeading, numeric: true },
          { heading: "as far apart by luck (p)", numeric: true },
          { heading: "among all comparisons", numeric: true },
        ]}
        rows={told.map(({ variety, reference, effect, p, pFamily }) => [
          variety,
          reference,
          effect,
          sayP(p),
          pFamily === null ? "–" : sayP(pFamily),
        ])}
      />
      <p className={styles.soft}>
        {of === "survival" && smallestP !== null && (
          <>
            The smallest p that this layout can give among all comparisons is {sayP(smallestP)}
            {saySmallestPLimit(whole?.trial.varieties.length ?? 0)}.{" "}
          </>
        )}
        It asks whether the varieties are interchangeable; for how far apart two of them are, read the limits.
      </p>
    </>
  );
}
