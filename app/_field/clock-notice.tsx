"use client";

import type { FieldPack } from "@/lib/sync/field-pack";
import { dayAtGarden, sayDay } from "@/lib/words/day";
import { instantOf } from "@/lib/words/instant";
import { sayClockOff } from "./clock-off";
import styles from "./field.module.css";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";

/** Told before anything is recorded: the clocks are so far apart that the day is in question. */
export function ClockNotice({ pack, aheadMs, nowMs }: { pack: FieldPack; aheadMs: number; nowMs: number }) {
  const dayBy = (ms: number) => sayDay(dayAtGarden(instantOf(ms), pack.timeZone), true);
  const answer = (day: "home" | "phone") => thisDevice().keep({ clockAnswer: { aheadMs, day } });
  return (
    <>
      <h1>Which day is it?</h1>
      <p className={styles.warning}>{sayClockOff(aheadMs)}</p>
      <p>
        Put the phone's clock right if you can, then try again. Otherwise say whose day counts; every fact
        carries by how much the clocks differ.
      </p>
      <div className={styles.stack}>
        <TapButton manner="main" wide onTap={() => answer("home")}>
          {dayBy(nowMs - aheadMs)}, as at home
        </TapButton>
        <TapButton wide onTap={() => answer("phone")}>
          {dayBy(nowMs)}, as on this phone
        </TapButton>
        <TapButton manner="quiet" wide onTap={() => thisDevice().sync()}>
          Try again
        </TapButton>
      </div>
    </>
  );
}
