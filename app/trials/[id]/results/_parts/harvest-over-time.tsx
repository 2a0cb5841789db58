"use client";

import { useState } from "react";
import { CartesianGrid, Legend, Line, LineChart, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";
import { seriesLook, toneColours } from "@/lib/figure/palette";
import type { HarvestRows } from "@/lib/report/harvest-rows";
import styles from "./harvest.module.css";

type Shown = "grams" | "summed";

/** The trial picks over time, to explore: each pick or added up, and each variety shown or put aside. */
export function HarvestOverTime({ harvest }: { harvest: HarvestRows }) {
  const [shown, setShown] = useState<Shown>("summed");
  const [aside, setAside] = useState<string[]>([]);
  const rows = harvest.picks.map((pick) => ({
    daysIn: pick.daysIn,
    words: pick.words,
    ...Object.fromEntries(harvest.varieties.map((variety, place) => [variety, pick[shown][place]])),
  }));
  const turn = (variety: string) =>
    setAside(aside.includes(variety) ? aside.filter((one) => one !== variety) : [...aside, variety]);
  return (
    <div className={styles.harvest}>
      <fieldset className={styles.choices}>
        <legend>Show, in grams a plot</legend>
        {(["summed", "grams"] as const).map((choice) => (
          <label key={choice}>
            <input
              type="radio"
              name="harvest-shown"
              checked={shown === choice}
              onChange={() => setShown(choice)}
            />
            {choice === "summed" ? "added up" : "each pick"}
          </label>
        ))}
      </fieldset>
      <fieldset className={styles.choices}>
        <legend>Varieties</legend>
        {harvest.varieties.map((variety) => (
          <label key={variety}>
            <input type="checkbox" checked={!aside.includes(variety)} onChange={() => turn(variety)} />
            {variety}
          </label>
        ))}
      </fieldset>
      <ResponsiveContainer width="100%" height={320}>
        <LineChart data={rows} margin={{ top: 8, right: 16, bottom: 8, left: 0 }} accessibilityLayer>
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis
            dataKey="daysIn"
            type="number"
            domain={["dataMin", "dataMax"]}
            ticks={rows.map((row) => row.daysIn)}
            tickFormatter={(daysIn: number) => rows.find((row) => row.daysIn === daysIn)?.words ?? ""}
            stroke="var(--soft-ink)"
          />
          <YAxis stroke="var(--soft-ink)" width={56} />
          <Tooltip
            isAnimationActive={false}
            labelFormatter={(daysIn) => rows.find((row) => row.daysIn === daysIn)?.words ?? ""}
            formatter={(value) => `${Math.round(Number(value))} g`}
            contentStyle={{ background: "var(--paper)", borderColor: "var(--rule)", borderRadius: 2 }}
          />
          <Legend formatter={(variety) => <span className={styles.legend}>{variety}</span>} />
          {harvest.varieties.map((variety, place) => {
            const look = seriesLook(place);
            return (
              <Line
                key={variety}
                hide={aside.includes(variety)}
                dataKey={variety}
                stroke={toneColours[look.tone]}
                strokeWidth={2}
                strokeDasharray={look.dash?.join(" ")}
                legendType={legendShapes[look.shape]}
                dot={{ r: 3 }}
                isAnimationActive={false}
                connectNulls
              />
            );
          })}
        </LineChart>
      </ResponsiveContainer>
    </div>
  );
}

const legendShapes = {
  circle: "circle",
  square: "square",
  diamond: "diamond",
  triangle: "triangle",
  "triangle-down": "star",
  cross: "cross",
} as const;
