import type { Metadata } from "next";
import Link from "next/link";
import { gardenView } from "@/lib/service/garden-view";
import { openHouse } from "@/lib/service/house";
import { sayDay } from "@/lib/words/day";
import { sayLengthMm } from "@/lib/words/length";

export const metadata: Metadata = { title: "Garden" };

/** The beds in walking order, and what has been proved in each. */
export default function GardenPage() {
  const { garden, beds, trials } = gardenView(openHouse());
  return (
    <>
      <h1>{garden ? garden.name : "No garden yet"}</h1>
      {garden && (
        <p className="soft">
          {Math.abs(garden.latitude)}° {garden.latitude < 0 ? "south" : "north"}, {Math.abs(garden.longitude)}
          ° {garden.longitude < 0 ? "west" : "east"}; days begin by the clock of {garden.timeZone}.
        </p>
      )}
      {beds.length === 0 ? (
        <p>
          No bed yet. A bed is made when <Link href="/trials/new">a trial is planned</Link> in it.
        </p>
      ) : (
        <ul className="ruled">
          {beds.map((bed) => (
            <li key={bed.id}>
              {bed.name}
              <span className="soft">
                , {sayLengthMm(bed.widthMm)} × {sayLengthMm(bed.lengthMm)}, {bed.setting}
              </span>
              <ul>
                {trials
                  .filter((trial) => bed.trialIds.includes(trial.id))
                  .map((trial) => (
                    <li key={trial.id}>
                      {sayDay(trial.plantedOn, true)}: {trial.crop},{" "}
                      <Link href={`/trials/${trial.id}`}>{trial.question}</Link> ({trial.state})
                    </li>
                  ))}
              </ul>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
