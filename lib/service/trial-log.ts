import { findPicture } from "@/db/queries/find-picture";
import { findTrial } from "@/db/queries/find-trial";
import { listBedFacts } from "@/db/queries/list-bed-facts";
import { listEntries } from "@/db/queries/list-entries";
import { type LogPlace, listLogPage } from "@/db/queries/list-log-page";
import { listPlots } from "@/db/queries/list-plots";
import { listTiedFacts } from "@/db/queries/list-tied-facts";
import { listTrialBeds } from "@/db/queries/list-trial-beds";
import type { BedFact } from "@/lib/words/bed-fact";
import { isDay } from "@/lib/words/day";
import { type FactState, factStates, type HistoryLine, historyLines } from "./history-line";
import type { House } from "./house";

const linesPerPage = 100;

export interface LogLine extends HistoryLine {
  plotCode: string;
  variety: string;
  /** Whether the picture that it names, if any, has come home. */
  pictureHome: boolean;
}

/** What was told of a whole bed that the trial stands in. */
export interface BedLogLine extends BedFact {
  bedName: string;
  state: FactState;
  pictureHome: boolean;
}

export interface TrialLog {
  /** The latest day first; within a day what came home last. */
  lines: LogLine[];
  /** Facts of the trial's beds on the days that begin on this page, the latest first. */
  bedLines: BedLogLine[];
  /** Hand this back as `before` for the next page; null when there is none. */
  nextBefore: string | null;
}

/** Reads a page's mark, `2027-03-04.812`; anything else starts at the top. */
function readMark(mark: string | undefined): LogPlace | null {
  const [seenOn, seq] = mark?.split(".") ?? [];
  if (seenOn === undefined || !isDay(seenOn) || !/^\d{1,15}$/.test(seq ?? "")) return null;
  return { seenOn, seq: Number(seq) };
}

/** A page of what was recorded in a trial, corrected and withdrawn facts included. */
export function trialLog(house: House, trialId: string, before?: string): TrialLog {
  const { database } = house;
  const found = listLogPage(database, trialId, readMark(before), linesPerPage + 1);
  const rows = found.slice(0, linesPerPage);
  const tied = listTiedFacts(database, { factIds: rows.map((row) => row.id) });
  const plots = new Map(listPlots(database, trialId).map((plot) => [plot.id, plot]));
  const varieties = new Map(listEntries(database, trialId).map((entry) => [entry.id, entry.variety]));
  const last = rows.at(-1);
  const isLast = last === undefined || found.length <= linesPerPage;
  const beds = new Map(
    listTrialBeds(database)
      .filter((row) => row.trialId === trialId)
      .map((row) => [row.id, row.name]),
  );
  // A day that runs over two pages shows its beds on the first of them.
  const mark = readMark(before);
  const trial = findTrial(database, trialId);
  const bedFacts = listBedFacts(database, {
    bedIds: [...beds.keys()],
    since: isLast ? (trial?.plantedOn ?? null) : last.seenOn,
    before: mark?.seenOn ?? null,
  }).filter((fact) => !trial?.closedOn || fact.seenOn <= trial.closedOn);
  const states = factStates(bedFacts);
  const isHome = (picture: string | null | undefined) => !!picture && findPicture(database, picture) !== null;
  return {
    bedLines: bedFacts.toReversed().map((fact) => ({
      ...fact,
      bedName: beds.get(fact.bedId) ?? "",
      state: states(fact),
      pictureHome: isHome(fact.picture),
    })),
    lines: historyLines(rows, tied).map((line) => {
      const plot = plots.get(line.plotId);
      return {
        ...line,
        plotCode: plot?.code ?? "",
        variety: varieties.get(plot?.entryId ?? "") ?? "",
        pictureHome: isHome(line.picture),
      };
    }),
    nextBefore: !isLast ? `${last.seenOn}.${last.seq}` : null,
  };
}
