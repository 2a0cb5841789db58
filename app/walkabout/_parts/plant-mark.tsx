import type { Mark } from "@/lib/sync/device/plot-marks";
import styles from "./bed.module.css";

/**
 * One plant as drawn: a full disc stands, a half one is doubtful, a broken ring is a gap; a plant set in a gap later has
 * a ring round its disc. Told apart by shape, not by colour.
 */
export function PlantMark({ mark }: { mark: Mark }) {
  return (
    <svg viewBox="0 0 32 32" className={styles.plant} aria-hidden="true">
      {mark.is === "gap" && <circle cx="16" cy="16" r="11" className={styles.gapRing} />}
      {mark.is === "doubtful" && (
        <>
          <circle cx="16" cy="16" r="11" className={styles.ring} />
          <path d="M16 5a11 11 0 0 0 0 22z" className={styles.disc} />
        </>
      )}
      {mark.is === "standing" && (
        <>
          <circle cx="16" cy="16" r={mark.cohortOn === null ? 11 : 7} className={styles.disc} />
          {mark.cohortOn !== null && <circle cx="16" cy="16" r="12" className={styles.ring} />}
        </>
      )}
    </svg>
  );
}
