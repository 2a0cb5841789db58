"use client";

import { useState } from "react";
import { CountStepper } from "@/app/_field/count-stepper";
import styles from "@/app/_field/field.module.css";
import { PictureButton } from "@/app/_field/picture-button";
import { sayFact, sayPackCause } from "@/app/_field/say-fact";
import { Sheet } from "@/app/_field/sheet";
import { TapButton } from "@/app/_field/tap-button";
import type { Picture, PlotMarks } from "@/lib/sync/device/device-store";
import { cohortOfFilling } from "@/lib/sync/device/due-assessment";
import { remember } from "@/lib/sync/device/plot-marks";
import type { PlotView } from "@/lib/sync/device/plot-view";
import {
  addedDraft,
  couldNotLookDrafts,
  doubtDrafts,
  endedDrafts,
  flowerStemDraft,
  type Looking,
  loseDrafts,
  noteDraft,
  regrewDraft,
  removeDrafts,
  scoreDraft,
  setRightDrafts,
  stageDraft,
} from "@/lib/sync/device/walk-acts";
import type { FieldPack } from "@/lib/sync/field-pack";
import { removalReasons } from "@/lib/words/cause";
import { sayDay } from "@/lib/words/day";
import { sayGrowthStage } from "@/lib/words/growth-stage";
import { sayPlants } from "@/lib/words/say-observation";
import type { Act, Perform } from "./act";
import bedStyles from "./bed.module.css";
import { CauseChoice } from "./cause-choice";
import { CountStep } from "./count-step";
import { HistoryStep } from "./history-step";
import { mostMarks } from "./lay-bed";
import { NoteStep } from "./note-step";
import { PlantMark } from "./plant-mark";
import { ScoreCells } from "./score-cells";
import { StageStep } from "./stage-step";

const traitsWithoutRule = ["cold damage", "vigour"];

type Step = "plants" | "count" | "stems" | "score" | "stage" | "note" | "removed" | "history";

/** One plot opened: its plants as large marks, and everything that can be said of it. */
export function PlotSheet({
  pack,
  view,
  places,
  looking,
  recentCauses,
  remembered,
  perform,
  inTurn,
  onBack,
}: {
  pack: FieldPack;
  view: PlotView;
  /** The marks tapped on the bed. */
  places: number[];
  looking: Looking;
  recentCauses: string[];
  remembered: PlotMarks;
  perform: Perform;
  /** On a round plot by plot: how far it is, and the one tap that goes on. An act then stays at the plot. */
  inTurn?: { progress: string; onStand: () => void; onLater: () => void };
  onBack: () => void;
}) {
  const { plot, marks } = view;
  const [chosen, setChosen] = useState(places);
  const [step, setStep] = useState<Step>("plants");
  const trial = pack.trials.find((candidate) => candidate.id === plot.trialId);
  const drawn = marks.length <= mostMarks;
  const picked = marks.filter((mark) => chosen.includes(mark.place));
  const standing = picked.filter((mark) => mark.is !== "gap");
  const cohortsOn = standing.map((mark) => mark.cohortOn);

  const choose = (place: number) => {
    const mark = marks[place];
    // Gaps and plants are asked different questions, so one kind is chosen at a time.
    const alike = picked
      .filter((other) => (other.is === "gap") === (mark.is === "gap"))
      .map(({ place }) => place);
    setChosen(alike.includes(place) ? alike.filter((other) => other !== place) : [...alike, place]);
  };
  const act = async (does: Omit<Act, "words"> & { says: string }) => {
    const { says, ...rest } = does;
    if (!(await perform({ ...rest, words: `${plot.code}: ${says}.` }))) return;
    if (inTurn) backToPlants();
    else onBack();
  };
  const backToPlants = () => {
    setChosen([]);
    setStep("plants");
  };
  const mark = (is: Parameters<typeof remember>[2]) => ({ [plot.id]: remember(remembered, chosen, is) });
  const sayGone = (count: number, cause: string) => {
    const plants = sayPlants(count);
    if (cause === "no-sign") return `${plants} gone without a sign`;
    if (cause === "unknown") return `${plants} gone, cause unknown`;
    return `${plants} gone to ${sayPackCause(pack, cause)}`;
  };
  const lose = (cause: string) =>
    act({
      drafts: loseDrafts(looking, view, cohortsOn, cause),
      says: sayGone(standing.length, cause),
      marks: mark("gap"),
      cause,
    });
  const doubt = (change: 1 | -1) => {
    const changed = standing.filter((one) => (one.is === "doubtful") === (change === -1));
    return act({
      drafts: doubtDrafts(
        looking,
        view,
        changed.map((one) => one.cohortOn),
        change,
      ),
      says:
        change === 1
          ? `${sayPlants(changed.length)} doubtful`
          : `${sayPlants(changed.length)} not doubtful after all`,
      marks: mark(change === 1 ? "doubtful" : null),
    });
  };
  const regrow = () => {
    // Gaps have no cohort of their own: those that lost plants take them back, the planting first.
    const losing = view.cohorts.find((cohort) => cohort.lost >= picked.length) ?? view.cohorts[0];
    return act({
      drafts: [regrewDraft(looking, view, losing.cohortOn, picked.length)],
      says: `${sayPlants(picked.length)} came again`,
      marks: mark(null),
    });
  };
  const fill = () => {
    const cohortOn = trial ? cohortOfFilling(trial, looking.seenOn) : looking.seenOn;
    return act({
      drafts: [addedDraft(looking, view, cohortOn, picked.length)],
      says: `${sayPlants(picked.length)} set in ${picked.length === 1 ? "a gap" : "gaps"}`,
      marks: mark(cohortOn),
    });
  };

  const title = `${plot.code} ${plot.variety}${inTurn ? `, ${inTurn.progress}` : ""}`;
  return (
    <Sheet title={title} onBack={onBack}>
      {view.endedOn !== null ? (
        <p>Ended on {sayDay(view.endedOn)}.</p>
      ) : (
        <>
          {drawn && step === "plants" && (
            <fieldset className={bedStyles.causes}>
              <legend className={styles.hidden}>Plants of {plot.code}</legend>
              <div className={bedStyles.zoom}>
                {marks.map((one) => (
                  <TapButton
                    bare
                    key={one.place}
                    className={bedStyles.zoomed}
                    aria-pressed={chosen.includes(one.place)}
                    aria-label={`Plant ${one.place + 1}, ${one.is}`}
                    onTap={() => choose(one.place)}
                  >
                    <PlantMark mark={one} />
                  </TapButton>
                ))}
              </div>
            </fieldset>
          )}
          {step === "plants" && standing.length > 0 && (
            <>
              <p className={bedStyles.ask}>
                {standing.length === 1 ? "One plant gone" : `${standing.length} plants gone`}: to what?
              </p>
              <CauseChoice pack={pack} recent={recentCauses} onCause={lose}>
                {standing.some((one) => one.is === "standing") && (
                  <TapButton manner="quiet" onTap={() => doubt(1)}>
                    Doubtful: may come again
                  </TapButton>
                )}
                {standing.some((one) => one.is === "doubtful") && (
                  <TapButton manner="quiet" onTap={() => doubt(-1)}>
                    Not doubtful after all
                  </TapButton>
                )}
                <TapButton manner="quiet" onTap={() => setStep("removed")}>
                  Taken out by somebody
                </TapButton>
              </CauseChoice>
            </>
          )}
          {step === "plants" && picked.length > 0 && standing.length === 0 && (
            <>
              <p className={bedStyles.ask}>
                {picked.length === 1 ? "This gap" : `These ${picked.length} gaps`}:
              </p>
              <div className={styles.stack}>
                <TapButton wide onTap={regrow}>
                  Came again from the crown
                </TapButton>
                <TapButton wide onTap={fill}>
                  Filled with a plant
                </TapButton>
                <TapButton wide manner="quiet" onTap={onBack}>
                  Still a gap
                </TapButton>
              </div>
            </>
          )}
          {step === "plants" && picked.length === 0 && (
            <PlotMatters
              view={view}
              looking={looking}
              pack={pack}
              act={act}
              perform={perform}
              onStep={setStep}
              onPicture={(picture) =>
                act({
                  drafts: [noteDraft(looking, view, "a picture", picture.sha256)],
                  pictures: [picture],
                  says: "a picture",
                })
              }
            />
          )}
        </>
      )}
      {step === "removed" && (
        <>
          <p className={bedStyles.ask}>{sayPlants(standing.length)} taken out: why?</p>
          <div className={styles.stack}>
            {removalReasons.map((reason) => (
              <TapButton
                key={reason.code}
                wide
                onTap={() =>
                  act({
                    drafts: removeDrafts(looking, view, cohortsOn, reason.code),
                    says: `${sayPlants(standing.length)} taken out: ${reason.words}`,
                    marks: mark("gap"),
                  })
                }
              >
                {reason.words}
              </TapButton>
            ))}
          </div>
        </>
      )}
      {step === "count" && (
        <CountStep
          pack={pack}
          view={view}
          looking={looking}
          recentCauses={recentCauses}
          perform={perform}
          onDone={inTurn ? backToPlants : onBack}
        />
      )}
      {step === "stems" && (
        <StemStep
          most={Math.max(view.standing, 1)}
          onCount={(plants) =>
            act({
              drafts: [flowerStemDraft(looking, view, plants)],
              says: `first flower stem on ${sayPlants(plants)}`,
            })
          }
        />
      )}
      {step === "score" &&
        (trial && trial.traits.length > 0 ? trial.traits : traitsWithoutRule).map((trait) => (
          <ScoreCells
            key={trait}
            trait={trait}
            onScore={(score) =>
              act({ drafts: [scoreDraft(looking, view, trait, score)], says: `${trait} ${score} of 9` })
            }
          />
        ))}
      {step === "stage" && (
        <StageStep
          view={view}
          onStage={(stage) =>
            act({
              drafts: [stageDraft(looking, view, stage)],
              says: `growth stage ${sayGrowthStage(stage)}`,
            })
          }
        />
      )}
      {step === "history" && <HistoryStep pack={pack} plotId={plot.id} by={looking.by} />}
      {step === "note" && (
        <NoteStep
          onNote={(note) => act({ drafts: [noteDraft(looking, view, note)], says: "note written" })}
        />
      )}
      {inTurn && step === "plants" && picked.length === 0 && (
        <div className={`${bedStyles.turn} ${styles.mirror}`}>
          <TapButton manner="quiet" onTap={inTurn.onLater}>
            Later
          </TapButton>
          <TapButton manner="main" onTap={inTurn.onStand}>
            {view.standing === marks.length
              ? `All ${view.standing} stand`
              : `The rest stand: ${view.standing}`}
          </TapButton>
        </div>
      )}
    </Sheet>
  );
}

/** What else can be said of a plot, and what this round has said of it already. */
function PlotMatters({
  view,
  looking,
  pack,
  act,
  perform,
  onStep,
  onPicture,
}: {
  view: PlotView;
  looking: Looking;
  pack: FieldPack;
  act: (does: Omit<Act, "words"> & { says: string }) => Promise<void>;
  perform: Perform;
  onStep: (step: Step) => void;
  onPicture: (picture: Picture) => void;
}) {
  const thisRound = view.inForce.filter((fact) => fact.walkaboutId === looking.walkaboutId);
  const notYet = couldNotLookDrafts(looking, [view]);
  return (
    <>
      <p>
        {view.standing} of {view.marks.length} stand
        {view.doubtful > 0 && `, ${view.doubtful} doubtful`}.{" "}
        {view.lastSeenOn === null ? "Not looked at yet." : `Last seen ${sayDay(view.lastSeenOn)}.`}{" "}
        {view.firstFlowerStemOn !== null && `First flower stem ${sayDay(view.firstFlowerStemOn)}.`}
      </p>
      {view.questions.map((question) => (
        <p key={question.factId} className={styles.warning}>
          To be settled since {sayDay(question.seenOn)}:{" "}
          {question.about === "count above"
            ? `${question.plants} more counted than the record knows of. Count again, or tap a gap that came again or was filled.`
            : `${sayPlants(question.plants)} more ${question.about.replace(" beyond", "")} than there were. Take back what is wrong, or count again.`}
        </p>
      ))}
      <div className={styles.stack}>
        <TapButton wide onTap={() => onStep("count")}>
          Count the plants
        </TapButton>
        <TapButton wide onTap={() => onStep("stems")}>
          First flower stems
        </TapButton>
        <TapButton wide onTap={() => onStep("score")}>
          Score
        </TapButton>
        <TapButton wide onTap={() => onStep("stage")}>
          Growth stage
        </TapButton>
        <TapButton wide onTap={() => onStep("note")}>
          Note
        </TapButton>
        <PictureButton className={styles.wide} onPicture={onPicture}>
          Picture
        </PictureButton>
        {notYet.length > 0 && (
          <TapButton wide onTap={() => act({ drafts: notYet, says: "could not look" })}>
            Could not look at this plot
          </TapButton>
        )}
        <TapButton wide manner="quiet" onTap={() => onStep("history")}>
          History, and putting right
        </TapButton>
        <TapButton
          wide
          manner="quiet"
          onTap={() => act({ drafts: endedDrafts(looking, view), says: "has ended" })}
        >
          Has ended: not walked from today
        </TapButton>
      </div>
      {thisRound.length > 0 && (
        <>
          <h3>Said on this round</h3>
          <ul className={styles.facts}>
            {thisRound.map((fact) => (
              <li key={fact.id} className={bedStyles.head}>
                <span>{sayFact(fact, pack)}</span>
                <TapButton
                  manner="quiet"
                  onTap={() =>
                    perform({
                      drafts: setRightDrafts(looking, view, fact),
                      takesBack: [fact.id],
                      words: `${view.plot.code}: taken back, ${sayFact(fact, pack)}.`,
                    })
                  }
                >
                  Take back
                </TapButton>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  );
}

function StemStep({ most, onCount }: { most: number; onCount: (plants: number) => void }) {
  const [count, setCount] = useState(1);
  return (
    <>
      <CountStepper
        label="Plants that show a first flower stem"
        unit="plant"
        count={count}
        onCount={(next) => setCount(Math.min(most, next))}
      />
      <TapButton manner="main" wide onTap={() => onCount(count)}>
        Write it down
      </TapButton>
    </>
  );
}
