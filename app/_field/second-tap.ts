const momentMs = 700;
const samePlacePx = 28;

type Tap = Pick<MouseEvent, "clientX" | "clientY" | "currentTarget" | "detail">;

let last: { atMs: number; xPx: number; yPx: number; target: EventTarget | null } | null = null;

/**
 * Whether a tap is the echo of the one before: within a moment, on the same button or on the same spot of the glass,
 * where a wet finger taps twice and the screen may have changed in between. Such a tap is ignored, and said.
 */
export function isSecondTap(event: Tap): boolean {
  const tap = { atMs: Date.now(), xPx: event.clientX, yPx: event.clientY, target: event.currentTarget };
  const byHand = event.detail > 0;
  const soon = last !== null && tap.atMs - last.atMs < momentMs;
  const near =
    last !== null &&
    (tap.target === last.target ||
      (byHand && Math.hypot(tap.xPx - last.xPx, tap.yPx - last.yPx) < samePlacePx));
  if (soon && near) return true;
  last = tap;
  return false;
}
