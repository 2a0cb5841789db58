"use client";

import { useActionState, useEffect, useState } from "react";
import { ErrorSummary } from "@/app/_ui/error-summary";
import { TextField } from "@/app/_ui/field";
import { startOwnGarden, type Typed } from "../actions";

const labels: Record<string, string> = {
  name: "What the garden is called",
  timeZone: "Time zone",
  latitude: "Latitude, in degrees north",
  longitude: "Longitude, in degrees east",
  altitudeM: "Height above the sea, in metres",
};

const hints: Record<string, string> = {
  timeZone: "As computers name it: Europe/London. The one this machine uses is filled in.",
  latitude: "54.2, say. South of the equator with a minus.",
  longitude: "−2.3, say. West of Greenwich with a minus. A tenth of a degree is near enough.",
  altitudeM: "May be left empty.",
};

export function GardenForm() {
  const [answer, act] = useActionState(startOwnGarden, { typed: {} as Typed, faults: [] });
  const [typed, setTyped] = useState<Typed>({});
  useEffect(() => {
    const timeZone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    setTyped((before) => ({ timeZone, ...before }));
  }, []);
  return (
    <form action={act} noValidate>
      <ErrorSummary faults={answer.faults} labelOf={(place) => labels[place] ?? place} />
      {Object.keys(labels).map((place) => (
        <TextField
          key={place}
          place={place}
          label={labels[place]}
          hint={hints[place]}
          faults={answer.faults.filter((fault) => fault.place === place)}
          value={typed[place] ?? answer.typed[place] ?? ""}
          onType={(value) => setTyped((before) => ({ ...before, [place]: value }))}
          short={place !== "name" && place !== "timeZone"}
        />
      ))}
      <div className="acts">
        <button type="submit" className="main">
          Start the garden
        </button>
      </div>
    </form>
  );
}
