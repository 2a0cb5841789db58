"use client";

import { useId, useState } from "react";
import type { OutboxEntry } from "@/lib/sync/device/outbox-entry";
import type { FieldPack } from "@/lib/sync/field-pack";
import { parseDay, sayDay } from "@/lib/words/day";
import type { Fault } from "@/lib/words/fault";
import { parseNumber } from "@/lib/words/number";
import styles from "./field.module.css";
import { say } from "./said";
import { sayPackCause } from "./say-fact";
import { TapButton } from "./tap-button";
import { thisDevice } from "./use-device";

/** A refused fact written anew: the same fields, filled with what it said. The old one stays, marked as settled. */
export function MendFact({
  entry,
  pack,
  onDone,
}: {
  entry: OutboxEntry;
  pack: FieldPack;
  onDone: () => void;
}) {
  const { fact } = entry;
  const [plotId, setPlotId] = useState(fact.plotId);
  const [amount, setAmount] = useState(fact.amount === null ? "" : String(fact.amount));
  const [day, setDay] = useState(sayDay(fact.seenOn, true));
  const [note, setNote] = useState(fact.note ?? "");
  const [faults, setFaults] = useState<Fault[]>([]);
  const id = useId();
  const plots = pack.beds.flatMap((bed) => bed.plots.map((plot) => ({ bed, plot })));

  const write = async () => {
    const found: Fault[] = [];
    if (!plots.some(({ plot }) => plot.id === plotId))
      found.push({ place: "plot", found: "a plot that is not walked", wanted: "a plot from the list" });
    const seenOn = parseDay(day, "day");
    if (!seenOn.ok) found.push(...seenOn.faults);
    const figure =
      amount.trim() === "" ? null : parseNumber(amount, { place: "amount", minimum: 0, maximum: 1_000_000 });
    if (figure !== null && !figure.ok) found.push(...figure.faults);
    setFaults(found);
    if (found.length > 0 || !seenOn.ok || (figure !== null && !figure.ok)) return;
    const {
      id: _id,
      deviceId: _deviceId,
      deviceSequence: _sequence,
      recordedAt: _recordedAt,
      ...draft
    } = fact;
    try {
      await thisDevice().record(
        [
          {
            ...draft,
            plotId,
            amount: figure === null ? null : figure.value,
            seenOn: seenOn.value,
            note: note.trim() === "" ? null : note,
          },
        ],
        undefined,
        [entry.id],
      );
      say("Written anew, on this phone.");
      onDone();
    } catch {
      setFaults([{ place: "this phone", found: "no room to write", wanted: "some storage freed" }]);
    }
  };

  return (
    <div>
      {faults.length > 0 && (
        <div className={styles.fault} role="alert">
          {faults.map((fault) => (
            <p key={fault.place}>
              The {fault.place} must be {fault.wanted}; it is {fault.found}.
            </p>
          ))}
        </div>
      )}
      <label className={styles.label} htmlFor={`${id}-plot`}>
        Plot
      </label>
      <select
        id={`${id}-plot`}
        className={styles.input}
        value={plotId}
        onChange={(event) => setPlotId(event.target.value)}
      >
        {!plots.some(({ plot }) => plot.id === plotId) && <option value={plotId}>Choose a plot</option>}
        {plots.map(({ bed, plot }) => (
          <option key={plot.id} value={plot.id}>
            {bed.name}, {plot.code}
          </option>
        ))}
      </select>
      {fact.cause !== null && <p>Cause: {sayPackCause(pack, fact.cause)}</p>}
      <label className={styles.label} htmlFor={`${id}-amount`}>
        Amount{fact.unit === null ? "" : ` in ${fact.unit}`}
      </label>
      <input
        id={`${id}-amount`}
        className={styles.input}
        inputMode="decimal"
        value={amount}
        onChange={(event) => setAmount(event.target.value)}
      />
      <label className={styles.label} htmlFor={`${id}-day`}>
        Day, such as 14 Mar 2027
      </label>
      <input
        id={`${id}-day`}
        className={styles.input}
        value={day}
        onChange={(event) => setDay(event.target.value)}
      />
      <label className={styles.label} htmlFor={`${id}-note`}>
        Note
      </label>
      <textarea
        id={`${id}-note`}
        className={styles.input}
        maxLength={10_000}
        value={note}
        onChange={(event) => setNote(event.target.value)}
      />
      <div className={styles.row}>
        <TapButton manner="main" onTap={write}>
          Write it down
        </TapButton>
        <TapButton manner="quiet" onTap={onDone}>
          Leave it
        </TapButton>
      </div>
    </div>
  );
}
