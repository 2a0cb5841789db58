"use client";

/** A fault of the program's own, not of what was typed. */
export default function ErrorPage({ reset }: { reset: () => void }) {
  return (
    <>
      <h1>Something in the program went wrong</h1>
      <p>
        What was recorded before is safe on disk. If you had just sent a form, it may not have been taken; go
        back and look before you send it again. The fault is written where the program was started.
      </p>
      <div className="acts">
        <button type="button" onClick={reset}>
          Try again
        </button>
      </div>
    </>
  );
}
