"use client";

import { useActionState, useEffect, useRef, useState } from "react";
import { SendButton } from "@/app/_ui/button";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { typedValues } from "@/app/_ui/field-fault";
import formStyles from "@/app/_ui/form.module.css";
import styles from "@/app/_ui/page.module.css";
import type { OpenPlan } from "@/lib/service/open-plan";
import { answerPlan, type Drawn, drawPlan, type PlanAnswer } from "../actions";
import { dropDraft, keepDraft, readDraft } from "./draft";
import planStyles from "./plan.module.css";
import { PlanBeginning } from "./plan-beginning";
import { PlanRest } from "./plan-rest";
import { LayoutInSight } from "./planned-layout";

type Values = Record<string, string>;

/** Fields on which the layout hangs: when one of them has changed, it is drawn anew. */
const drawnFields =
  /^(entries|beds|levels|sowings|among|inTheWay|companions)\.|^(design|seed|blocks|plantsPerPlot|betweenPlantsMm|betweenRowsMm|plotsPerBlock|gradient|pathSide|guardRows|sownOn|plantedOn)$/;

const untouched = { faults: [], drawn: null, goTo: null };

function emptyPlan(plan: OpenPlan, begun: Values | null): Values {
  const values: Values = { trialId: plan.trialId, stage: "first", seed: String(plan.seed), ...begun };
  if (plan.choices.beds.length === 0) values["rows.newBeds"] = "1";
  return values;
}

/**
 * The planning form. Everything works by sending the form; where the browser runs scripts, the layout follows the
 * figures as they are changed, and the draft is kept so that Back and reload lose nothing.
 */
export function PlanForm({ plan, begun }: { plan: OpenPlan; begun: Values | null }) {
  const [answer, act] = useActionState<PlanAnswer, FormData>(answerPlan, {
    ...untouched,
    values: emptyPlan(plan, begun),
    turn: 0,
  });
  // What the browser kept stands until the first answer; then the answer does.
  const [draft, setDraft] = useState<Values | null>(null);
  const [redrawn, setRedrawn] = useState<{ turn: number; drawn: Drawn } | null>(null);
  const form = useRef<HTMLFormElement>(null);
  const lastDrawing = useRef(0);

  const isDraft = draft !== null && answer.turn === 0;
  const values = isDraft ? draft : answer.values;
  const drawn = redrawn && redrawn.turn === answer.turn ? redrawn.drawn : answer.drawn;

  const redraw = async (next: Values, turn: number) => {
    lastDrawing.current += 1;
    const drawing = lastDrawing.current;
    const fresh = await drawPlan(next);
    if (drawing === lastDrawing.current) setRedrawn({ turn, drawn: fresh });
  };

  // biome-ignore lint/correctness/useExhaustiveDependencies: the draft is looked for once, when the form is opened
  useEffect(() => {
    const kept = readDraft();
    // A plan asked for from an old trial is not hidden behind another plan's draft.
    if (!kept || (begun && kept.values.from !== begun.from)) return;
    setDraft(kept.values);
    if (kept.values.stage === "whole") void redraw(kept.values, 0);
  }, []);

  useEffect(() => {
    if (answer.turn === 0) return;
    lastDrawing.current += 1;
    keepDraft({ trialId: answer.values.trialId, values: answer.values });
    if (answer.faults.length > 0 || !answer.goTo) return;
    const place = document.getElementById(answer.goTo);
    // A heading is led to with what follows it; a field is brought into sight by its focus.
    const isHeading = answer.goTo.endsWith("-heading");
    place?.focus({ preventScroll: isHeading });
    if (isHeading) place?.scrollIntoView();
  }, [answer]);

  const changed = (name: string) => {
    if (!form.current) return;
    const { act: _, ...typed } = typedValues(new FormData(form.current));
    keepDraft({ trialId: typed.trialId, values: typed });
    if (typed.stage === "whole" && drawnFields.test(name)) void redraw(typed, answer.turn);
  };

  const parts = { values, faults: answer.faults, choices: plan.choices };
  return (
    <>
      {isDraft && (
        <p className={styles.note} role="status">
          This plan was begun before and kept in this browser.{" "}
          <button
            type="button"
            className={`${formStyles.button} ${formStyles.quiet}`}
            onClick={() => {
              dropDraft();
              setDraft(null);
              setRedrawn(null);
            }}
          >
            Start afresh
          </button>
        </p>
      )}
      <form
        ref={form}
        action={act}
        noValidate
        key={`${answer.turn} ${isDraft}`}
        className={values.stage === "whole" ? planStyles.beside : undefined}
        onInput={() => {
          if (!form.current) return;
          const { act: _, ...typed } = typedValues(new FormData(form.current));
          keepDraft({ trialId: typed.trialId, values: typed });
        }}
        onChange={(event) => changed((event.target as unknown as HTMLInputElement).name)}
      >
        {/* Enter in a field presses the first button of a form: this one, which saves nothing. */}
        <button
          type="submit"
          name="act"
          value="draw"
          className={styles.hidden}
          tabIndex={-1}
          aria-hidden="true"
        >
          Go on
        </button>
        {[
          "trialId",
          "stage",
          "from",
          "spacingFrom",
          "designWhy",
          "rows.entries",
          "rows.newBeds",
          "rows.covers",
          "rows.levels",
          "rows.inTheWay",
          "rows.companions",
          "rows.qualities",
        ].map((name) => (
          <input key={name} type="hidden" name={name} defaultValue={values[name] ?? ""} />
        ))}
        <ErrorSummary faults={answer.faults} turn={answer.turn} />
        {values.stage === "whole" && <LayoutInSight drawn={drawn} />}
        <PlanBeginning {...parts} bedsInUse={plan.bedsInUse}>
          {values.stage !== "whole" && (
            <>
              <input type="hidden" name="seed" defaultValue={values.seed} />
              <div className={formStyles.buttons}>
                <SendButton act="propose" manner="main">
                  Propose a plan that fits
                </SendButton>
              </div>
            </>
          )}
        </PlanBeginning>
        {values.stage === "whole" && <PlanRest {...parts} drawn={drawn} />}
      </form>
    </>
  );
}
