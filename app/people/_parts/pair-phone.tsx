"use client";

import { useActionState } from "react";
import { SendButton } from "@/app/_ui/button";
import page from "@/app/_ui/page.module.css";
import { type PairingAnswer, pairPhoneFor } from "../actions";
import styles from "./people.module.css";

type Code = PairingAnswer["doors"][number]["pair"];

function DrawnCode({ code, words }: { code: Code; words: string }) {
  return (
    <svg role="img" aria-label={words} viewBox={`0 0 ${code.size} ${code.size}`} shapeRendering="crispEdges">
      <path d={code.path} />
    </svg>
  );
}

function Door({ door, name }: { door: PairingAnswer["doors"][number]; name: string }) {
  return (
    <div className={styles.codes}>
      {door.trust && (
        <figure className={styles.code}>
          <DrawnCode code={door.trust.code} words={`Code that opens ${door.trust.address}`} />
          <figcaption>
            First, once for each phone: trust this house. Opens{" "}
            <span className={styles.address}>{door.trust.address}</span>
          </figcaption>
        </figure>
      )}
      <figure className={styles.code}>
        <DrawnCode code={door.pair} words={`Code that pairs a phone for ${name}`} />
        <figcaption>
          {door.trust ? "Then pair" : "Pair"} it for {name}. Opens{" "}
          <span className={styles.address}>{door.address}</span>
        </figcaption>
      </figure>
    </div>
  );
}

/** Makes a code for one phone and shows it. */
export function PairPhone({ personId, name }: { personId: string; name: string }) {
  const [answer, act, busy] = useActionState(pairPhoneFor, null);
  const [first, ...others] = answer?.doors ?? [];
  return (
    <>
      <form action={act} className={styles.pairing}>
        <input type="hidden" name="personId" value={personId} />
        <SendButton>
          {busy ? "Making a code…" : answer ? "Another code" : "Pair a phone"}
          <span className={page.hidden}> for {name}</span>
        </SendButton>
      </form>
      {answer && first && (
        <div role="status">
          <p>
            Point the phone’s camera at the code. It works once, until {answer.until}; whoever reads it is{" "}
            {name}.
          </p>
          <Door door={first} name={name} />
          {others.length > 0 && (
            <details className={styles.fold}>
              <summary>The phone does not find that address</summary>
              <p>
                Some phones do not look up names that end in .local. These addresses may change when the
                router gives out new ones, and the app on the phone then has to be put on it again.
              </p>
              {others.map((door) => (
                <Door key={door.address} door={door} name={name} />
              ))}
            </details>
          )}
        </div>
      )}
    </>
  );
}
