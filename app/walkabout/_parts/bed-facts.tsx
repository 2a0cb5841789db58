"use client";

import { useState } from "react";
import { PictureButton } from "@/app/_field/picture-button";
import { TapButton } from "@/app/_field/tap-button";
import { wordsDraft } from "@/lib/sync/device/bed-acts";
import type { BedView } from "@/lib/sync/device/bed-view";
import type { Looking } from "@/lib/sync/device/walk-acts";
import type { FieldPack } from "@/lib/sync/field-pack";
import type { BedFact } from "@/lib/words/bed-fact";
import { sayTenthsC } from "@/lib/words/temperature";
import type { Perform } from "./act";
import styles from "./bed.module.css";
import { BedFactSheet, type BedMatter } from "./bed-fact-sheet";

const asBefore = "as before";

/**
 * What is told of a bed as a whole: its cover, the lowest temperature, a picture, what was done to it. Each stays as
 * before until it is tapped; then nothing else is written down.
 */
export function BedFacts({
  pack,
  view,
  looking,
  perform,
}: {
  pack: FieldPack;
  view: BedView;
  looking: Looking;
  perform: Perform;
}) {
  const [matter, setMatter] = useState<BedMatter | null>(null);
  const { bed } = view;
  const thisRound = view.inForce.filter((fact) => fact.walkaboutId === looking.walkaboutId);
  const said = (kind: BedFact["kind"]) => thisRound.findLast((fact) => fact.kind === kind);
  const lowest = said("lowest");
  const pictures = thisRound.filter((fact) => fact.picture !== null).length;
  const others = thisRound.filter(
    (fact) => fact.picture === null && !["cover", "lowest", "looked", "not-seen"].includes(fact.kind),
  ).length;
  const cover = view.cover ?? (bed.covers.length > 0 ? "shut" : null);
  return (
    <>
      <div className={styles.facts}>
        <TapButton manner={said("cover") ? "plain" : "quiet"} onTap={() => setMatter("cover")}>
          <Told name="Cover" words={cover ?? "none"} />
        </TapButton>
        <TapButton manner={lowest ? "plain" : "quiet"} onTap={() => setMatter("lowest")}>
          <Told name="Lowest" words={lowest ? sayTenthsC(lowest.amount ?? 0) : asBefore} />
        </TapButton>
        <PictureButton
          onPicture={(picture) =>
            perform({
              drafts: [wordsDraft(looking, bed.id, "note", "a picture", picture.sha256)],
              pictures: [picture],
              words: `${bed.name}: a picture.`,
            })
          }
        >
          <Told name="Picture" words={pictures === 0 ? "none" : `${pictures} taken`} />
        </PictureButton>
        <TapButton manner={others > 0 ? "plain" : "quiet"} onTap={() => setMatter("done")}>
          <Told name="Done" words={others === 0 ? "nothing" : `${others} noted`} />
        </TapButton>
      </div>
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
    </>
  );
}

function Told({ name, words }: { name: string; words: string }) {
  return (
    <span>
      <strong className={styles.told}>{name}</strong> {words}
    </span>
  );
}
