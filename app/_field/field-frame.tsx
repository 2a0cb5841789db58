"use client";

import { type ReactNode, useEffect } from "react";
import type { Kept } from "@/lib/sync/device/device-store";
import type { FieldPack } from "@/lib/sync/field-pack";
import { type Day, dayAtGarden } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { AskName } from "./ask-name";
import { ClockNotice } from "./clock-notice";
import { isClockOff, stillAnswered } from "./clock-off";
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

/** By which clock the day goes: null when the two are far apart and nobody has said yet. */
function clockFor({ clockAheadMs, clockAnswer }: Kept): "home" | "phone" | null {
  if (!isClockOff(clockAheadMs)) return "phone";
  return clockAnswer !== null && stillAnswered(clockAnswer.aheadMs, clockAheadMs ?? 0)
    ? clockAnswer.day
    : null;
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
  const { kept, ready } = state;
  useEffect(() => {
    void thisDevice().askToPersist();
  }, []);
  return (
    <div className={styles.field} data-hand={kept.hand ?? "right"}>
      <OutboxStrip state={state} />
      {ready && nowMs !== null ? (
        <Within kept={kept} trouble={state.trouble !== null} nowMs={nowMs} title={title} asks={asks}>
          {children}
        </Within>
      ) : (
        <h1>{title}</h1>
      )}
    </div>
  );
}

function Within({
  kept,
  trouble,
  nowMs,
  title,
  asks,
  children,
}: {
  kept: Kept;
  trouble: boolean;
  nowMs: number;
  title: string;
  asks: string;
  children: (ready: FieldReady) => ReactNode;
}) {
  const pack = kept.pack?.pack ?? null;
  const { by } = kept;
  if (pack === null)
    return (
      <>
        <h1>{title}</h1>
        <p>
          {trouble
            ? "This phone holds no beds yet. Open this page once where home can be reached; after that it works without a signal."
            : "Fetching the beds from home…"}
        </p>
        {trouble && <TapButton onTap={() => thisDevice().sync()}>Try again</TapButton>}
      </>
    );
  if (pack.beds.length === 0)
    return (
      <>
        <h1>{title}</h1>
        <p>
          There is no bed yet, so there is nothing to record here. A bed is named when a trial is planned.
        </p>
      </>
    );
  if (by === null)
    return (
      <>
        <h1>{title}</h1>
        <AskName question={asks} name={pack.person?.name ?? ""} />
        <p>Asked once on this phone. It can be changed at the top, under More.</p>
      </>
    );
  const clock = clockFor(kept);
  const aheadMs = kept.clockAheadMs ?? 0;
  if (clock === null) return <ClockNotice pack={pack} aheadMs={aheadMs} nowMs={nowMs} />;
  const today = dayAtGarden(instantOf(clock === "home" ? nowMs - aheadMs : nowMs), pack.timeZone);
  return children({ pack, by, today });
}
