import { DataTable } from "@/app/_ui/data-table";
import { Working } from "@/app/_ui/working";
import { otherMethodRows, survivalWorking } from "@/lib/report/working-words";
import type { trialFindings } from "@/lib/service/trial-findings";
import { sayPercent, sayPoints } from "@/lib/words/say-number";

type Finding = NonNullable<NonNullable<ReturnType<typeof trialFindings>>["survival"]>;

/** Method, why this one, limits for all comparisons at once, what other methods say, and where it comes from. */
export function SurvivalWorking({ finding }: { finding: Finding }) {
  const { differences, working } = finding.value;
  const others = otherMethodRows(finding.value);
  const family = differences.filter((difference) => difference.lowFamily !== null);
  return (
    <Working>
      {survivalWorking(finding).map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {family.length > 0 && (
        <DataTable
          caption="Differences from the check, in plants in a hundred"
          columns={[
            { heading: "variety" },
            { heading: "alone, from", numeric: true },
            { heading: "to", numeric: true },
            { heading: "all at once, from", numeric: true },
            { heading: "to", numeric: true },
          ]}
          rows={family.map((difference) => [
            difference.variety,
            ...[difference.low, difference.high, difference.lowFamily, difference.highFamily].map((value) =>
              value === null ? "–" : sayPoints(value),
            ),
          ])}
        />
      )}
      <DataTable
        caption="What other methods would say; none of them decides"
        columns={others.headings.map((heading, place) => ({ heading, numeric: place > 0 }))}
        rows={others.rows}
      />
      {working.leaveOneOut.length > 0 && (
        <DataTable
          caption="Leave out the plot that matters most, and the share becomes"
          columns={[{ heading: "variety" }, { heading: "plot" }, { heading: "share", numeric: true }]}
          rows={working.leaveOneOut.map((left) => [left.variety, left.plot, sayPercent(left.share)])}
        />
      )}
      <Sources sources={finding.method.sources} />
    </Working>
  );
}

/** Where a method comes from. */
export function Sources({ sources }: { sources: string[] }) {
  if (sources.length === 0) return null;
  return (
    <>
      <h3>Sources</h3>
      <ul>
        {sources.map((source) => (
          <li key={source}>{source}</li>
        ))}
      </ul>
    </>
  );
}
