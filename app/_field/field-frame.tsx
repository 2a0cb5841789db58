"use client";

import type { ReactNode } from "react";
import type { FieldPack } from "@/lib/sync/field-pack";
import { type Day, dayAtGarden } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { AskName } from "./ask-name";
import styles from "./field.module.css";
import { OutboxStrip } from "./outbox-strip";
import { TapButton } from "./tap-button";
import { thisDevice, useDeviceState } from "./use-device";
import { useNowMs } from "./use-now";

/** What a field screen needs before it can record anything. */
export interface FieldReady {
  pack: FieldPack;
  by: string;
  /** The day at the garden now, by its own time zone. */
  today: Day;
}

/** The frame of the field screens: the strip of what is not home yet, and whatever must be there first. */
export function FieldFrame({
  title,
  asks,
  children,
}: {
  title: string;
  asks: string;
  children: (ready: FieldReady) => ReactNode;
}) {
  const state = useDeviceState();
  const nowMs = useNowMs();
  const pack = state.kept.pack?.pack ?? null;
  const { by } = state.kept;
  if (state.ready && nowMs !== null && pack !== null && pack.beds.length > 0 && by !== null)
    return (
      <div className={styles.field}>
        <OutboxStrip state={state} />
        {children({ pack, by, today: dayAtGarden(instantOf(nowMs), pack.timeZone) })}
      </div>
    );
  return (
    <div className={styles.field}>
      <OutboxStrip state={state} />
      <h1>{title}</h1>
      {state.ready && pack === null && (
        <>
          <p>
            {state.trouble === null
              ? "Fetching the beds from home…"
              : "This phone holds no beds yet. Open this page once where home can be reached; after that it works without a signal."}
          </p>
          {state.trouble !== null && <TapButton onTap={() => thisDevice().sync()}>Try again</TapButton>}
        </>
      )}
      {state.ready && pack?.beds.length === 0 && (
        <p>
          No trial is in the ground, so there is nothing to record here. A trial is walked from the day it is
          planted.
        </p>
      )}
      {state.ready && pack !== null && pack.beds.length > 0 && by === null && (
        <>
          <AskName question={asks} name="" />
          <p>Asked once on this phone. It can be changed at the top, under More.</p>
        </>
      )}
    </div>
  );
}
