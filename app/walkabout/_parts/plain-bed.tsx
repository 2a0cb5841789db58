"use client";

import { useEffect, useState } from "react";
import styles from "@/app/_field/field.module.css";
import { StatusLine } from "@/app/_field/status-line";
import { TapButton } from "@/app/_field/tap-button";
import { lookedDraft } from "@/lib/sync/device/bed-acts";
import type { BedView } from "@/lib/sync/device/bed-view";
import type { Walk } from "@/lib/sync/device/device-store";
import type { Looking } from "@/lib/sync/device/walk-acts";
import type { FieldPack } from "@/lib/sync/field-pack";
import { sayBedFact } from "@/lib/words/bed-fact";
import { type Day, sayDay } from "@/lib/words/day";
import type { Perform } from "./act";
import bedStyles from "./bed.module.css";
import { BedFactSheet, type BedMatter } from "./bed-fact-sheet";
import { BedFacts } from "./bed-facts";
import { BedHead } from "./bed-head";
import { BedsSheet } from "./beds-sheet";

/** Of what was told of a bed before, so many are shown. */
const mostBefore = 5;

/** A bed without a running trial: what was told of it last, and *looked over* in one tap. */
export function PlainBed({
  pack,
  view,
  walk,
  today,
  looking,
  perform,
  onUndo,
  onBed,
  onEnd,
  onPaper,
}: {
  pack: FieldPack;
  view: BedView;
  walk: Walk;
  today: Day;
  looking: Looking;
  perform: Perform;
  onUndo: () => void;
  onBed: (bedId: string) => void;
  onEnd: () => void;
  onPaper: (day: Day) => void;
}) {
  const [beds, setBeds] = useState(false);
  const [matter, setMatter] = useState<BedMatter | null>(null);
  const { bed } = view;
  useEffect(() => {
    scrollTo({ top: 0, behavior: "instant" });
  }, []);
  const close = (how: "looked" | "not-seen", words: string) =>
    perform({ drafts: [lookedDraft(looking, bed.id, how)], words: `${bed.name}: ${words}.`, closes: how });
  const telling = view.inForce.filter((fact) => fact.kind !== "looked");
  const now = telling.filter((fact) => fact.walkaboutId === looking.walkaboutId);
  const before = telling
    .filter((fact) => fact.walkaboutId !== looking.walkaboutId)
    .slice(-mostBefore)
    .reverse();
  return (
    <div className={bedStyles.tall}>
      <BedHead pack={pack} bed={bed} paperOn={walk.paperOn ?? null} onBeds={() => setBeds(true)} />
      <BedFacts pack={pack} view={view} looking={looking} perform={perform} />
      <div className={styles.row}>
        <TapButton onTap={() => setMatter("ready")}>Ready to pick</TapButton>
        <TapButton onTap={() => setMatter("pest")}>Pest seen</TapButton>
        <TapButton onTap={() => setMatter("note")}>Condition or note</TapButton>
      </div>
      <p>
        No trial stands here.{" "}
        {view.lastSeenOn === null
          ? "Nothing was told of it yet."
          : `Last looked at ${sayDay(view.lastSeenOn)}.`}
      </p>
      {now.length > 0 && (
        <ul className={styles.facts}>
          {now.map((fact) => (
            <li key={fact.id}>
              <strong>{sayBedFact(fact)}</strong>
            </li>
          ))}
        </ul>
      )}
      {before.length > 0 && (
        <div>
          <h2>Told before</h2>
          <ul className={styles.facts}>
            {before.map((fact) => (
              <li key={fact.id}>
                {sayDay(fact.seenOn)}: {sayBedFact(fact)}
              </li>
            ))}
          </ul>
        </div>
      )}
      <div className={bedStyles.foot}>
        <StatusLine className={bedStyles.said} />
        <div className={`${bedStyles.acts} ${styles.mirror}`}>
          <TapButton manner="quiet" onTap={onUndo}>
            Undo
          </TapButton>
          <TapButton onTap={() => close("not-seen", "could not look")}>Could not look</TapButton>
          <TapButton manner="main" onTap={() => close("looked", "looked over")}>
            Looked over
          </TapButton>
        </div>
      </div>
      {beds && (
        <BedsSheet
          pack={pack}
          walk={walk}
          bedId={bed.id}
          today={today}
          onBed={onBed}
          onEnd={onEnd}
          onPaper={onPaper}
          onBack={() => setBeds(false)}
        />
      )}
      {matter !== null && (
        <BedFactSheet
          key={matter}
          matter={matter}
          pack={pack}
          view={view}
          looking={looking}
          perform={perform}
          onBack={() => setMatter(null)}
        />
      )}
    </div>
  );
}
