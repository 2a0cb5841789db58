"use client";

import { useMemo, useRef, useState } from "react";
import styles from "@/app/_field/field.module.css";
import { FieldFrame, type FieldReady } from "@/app/_field/field-frame";
import { say } from "@/app/_field/said";
import { TapButton } from "@/app/_field/tap-button";
import { thisDevice, useDeviceState } from "@/app/_field/use-device";
import { useWakeLock } from "@/app/_field/use-wake-lock";
import { coverDraft } from "@/lib/sync/device/bed-acts";
import { bedViews } from "@/lib/sync/device/bed-view";
import type { Walk } from "@/lib/sync/device/device-store";
import { plotViewer, plotViews } from "@/lib/sync/device/plot-view";
import { afterAct, allClosed, beforeLastAct, startWalk, withoutFacts } from "@/lib/sync/device/walk";
import { takeBackDrafts } from "@/lib/sync/device/walk-acts";
import type { FieldBed } from "@/lib/sync/field-pack";
import type { Fact } from "@/lib/words/bed-fact";
import { type Day, sayDay } from "@/lib/words/day";
import type { Act } from "./act";
import { BedScreen } from "./bed-screen";
import { PlainBed } from "./plain-bed";
import { RoundEnd } from "./round-end";

/** The round on the screen: the one under way or ended today, else a new one that is kept with its first act. */
function roundToday(kept: Walk | null, fresh: Walk, today: Day, beds: FieldBed[]): Walk {
  const walk = kept === null || (kept.ended && kept.startedOn !== today) ? fresh : kept;
  if (beds.some((bed) => bed.id === walk.bedId)) return walk;
  return { ...walk, bedId: beds[0].id };
}

/** Walks the beds: the next one as it lies, gap by gap, and at the end what changed. */
export function Walkabout() {
  return (
    <FieldFrame title="Walkabout" asks="Who is walking?">
      {(ready) => <Round {...ready} />}
    </FieldFrame>
  );
}

function Round({ pack, by, today }: FieldReady) {
  const { kept, entries } = useDeviceState();
  const [fresh, setFresh] = useState(() => startWalk(thisDevice().newId(), today, pack.beds[0].id));
  const queue = useRef<Promise<unknown>>(Promise.resolve());
  const walk = roundToday(kept.walk, fresh, today, pack.beds);
  const paperOn = walk.paperOn ?? null;
  const [viewsOf] = useState(plotViewer);
  const views = useMemo(
    () => viewsOf(pack, entries, kept.marks ?? {}, paperOn),
    [viewsOf, pack, entries, kept.marks, paperOn],
  );
  const ofBeds = useMemo(() => bedViews(pack, entries, paperOn), [pack, entries, paperOn]);
  useWakeLock();

  // Taps may come faster than the disk: each act is carried out on what the one before it left.
  const inTurn = (work: () => Promise<void>): Promise<boolean> => {
    const done = queue.current.then(work).then(
      () => true,
      () => {
        say("Not kept: the phone could not write it down. Nothing on the screen is lost; try again.");
        return false;
      },
    );
    queue.current = done;
    return done;
  };
  const walkNow = () => roundToday(thisDevice().state().kept.walk, fresh, today, pack.beds);

  const perform = (act: Act) =>
    inTurn(async () => {
      const before = thisDevice().state().kept;
      const now = walkNow();
      const changed = Object.keys(act.marks ?? {});
      const marksBefore = Object.fromEntries(changed.map((plotId) => [plotId, before.marks?.[plotId] ?? {}]));
      const causes = before.recentCauses ?? [];
      const alongside = (factIds: string[]) => ({
        walk: act.takesBack
          ? withoutFacts(now, act.takesBack)
          : afterAct(
              now,
              { factIds, bedId: now.bedId, words: act.words, closed: act.closes !== undefined, marksBefore },
              act.closes ?? null,
              pack.beds,
            ),
        ...(act.marks ? { marks: { ...before.marks, ...act.marks } } : {}),
        ...(act.cause
          ? { recentCauses: [act.cause, ...causes.filter((cause) => cause !== act.cause)].slice(0, 3) }
          : {}),
      });
      await thisDevice().record(act.drafts, { alongside, pictures: act.pictures });
      say(`${act.words} On this phone.`);
    });

  const looking = { by, seenOn: paperOn ?? today, walkaboutId: walk.walkaboutId };
  const undo = () =>
    inTurn(async () => {
      const last = beforeLastAct(walkNow());
      if (last === null) return say("Nothing left to take back on this round.");
      const made = new Set(last.act.factIds);
      const known = thisDevice().state().entries;
      const facts = [...plotViews(pack, known, {}).values(), ...bedViews(pack, known).values()]
        .flatMap((view): Fact[] => view.inForce)
        .filter((fact) => made.has(fact.id))
        .sort((one, other) => one.deviceSequence - other.deviceSequence);
      await thisDevice().record(takeBackDrafts(looking, facts), {
        alongside: () => ({
          walk: last.walk,
          marks: { ...thisDevice().state().kept.marks, ...last.act.marksBefore },
        }),
      });
      say(`Taken back: ${last.act.words}`);
    });

  const turnTo = (changed: Walk) =>
    inTurn(async () => {
      await thisDevice().keep({ walk: changed });
    });
  // A cover that was opened on the round is shut again once the grower says so.
  const end = () =>
    inTurn(async () => {
      const opened = [...ofBeds.values()].filter(
        (view) =>
          view.cover === "open" &&
          view.inForce.findLast((fact) => fact.kind === "cover")?.walkaboutId === walk.walkaboutId,
      );
      await thisDevice().record(
        opened.map((view) => coverDraft(looking, view.bed.id, "shut")),
        { alongside: () => ({ walk: { ...walkNow(), ended: true } }) },
      );
    });
  const beginAnother = (onPaper: Day | null) => {
    const begun = startWalk(thisDevice().newId(), today, pack.beds[0].id);
    const next = onPaper === null || onPaper === today ? begun : { ...begun, paperOn: onPaper };
    setFresh(next);
    say("");
    void turnTo(next);
  };

  if (walk.startedOn !== today && !walk.ended) {
    const closed = pack.beds.filter((bed) => walk.closed[bed.id]);
    return (
      <>
        <h1>A round is open from {sayDay(walk.startedOn)}</h1>
        <p>
          {closed.length === 0
            ? "No bed of it was finished."
            : `Finished: ${closed.map((bed) => bed.name).join(", ")}.`}{" "}
          What was recorded is kept either way, under the day on which it was seen.
        </p>
        <div className={styles.row}>
          <TapButton manner="main" onTap={() => beginAnother(null)}>
            Begin today's round
          </TapButton>
          <TapButton onTap={() => turnTo({ ...walk, startedOn: today })}>Go on with that one</TapButton>
        </div>
      </>
    );
  }
  if (walk.ended || allClosed(pack.beds, walk))
    return (
      <RoundEnd
        pack={pack}
        walk={walk}
        views={views}
        bedViews={ofBeds}
        onUndo={undo}
        onEnd={end}
        onBegin={() => beginAnother(null)}
        onBed={(bedId) => {
          const { [bedId]: _open, ...closed } = walk.closed;
          void turnTo({ ...walk, ended: false, closed, bedId });
        }}
      />
    );
  const bed = pack.beds.find((candidate) => candidate.id === walk.bedId) ?? pack.beds[0];
  const bedView = ofBeds.get(bed.id);
  if (!bedView) return null;
  const shared = {
    pack,
    walk,
    today,
    looking,
    perform,
    onUndo: undo,
    onBed: (bedId: string) => turnTo({ ...walk, bedId }),
    onEnd: () =>
      turnTo({
        ...walk,
        closed: Object.fromEntries(pack.beds.map(({ id }) => [id, walk.closed[id] ?? "left out"])),
      }),
    onPaper: beginAnother,
  };
  if (bed.plots.length === 0) return <PlainBed key={bed.id} {...shared} view={bedView} />;
  return (
    <BedScreen
      key={bed.id}
      {...shared}
      bed={bed}
      views={views}
      bedView={bedView}
      recentCauses={kept.recentCauses ?? []}
      marks={kept.marks ?? {}}
      onByPlot={(byPlot) => turnTo({ ...walkNow(), byPlot })}
    />
  );
}
