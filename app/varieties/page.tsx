import type { Metadata } from "next";
import Link from "next/link";
import { openHouse } from "@/lib/service/house";
import { varietyList } from "@/lib/service/variety-list";
import { sayDay } from "@/lib/words/day";

export const metadata: Metadata = { title: "Varieties" };

/** What is known of each variety: the packet's claim beside the trials that it has stood in. */
export default function VarietiesPage() {
  const crops = varietyList(openHouse());
  return (
    <>
      <h1>Varieties</h1>
      {crops.length === 0 && (
        <p>
          None yet. Varieties are named when <Link href="/trials/new">a trial is planned</Link>.
        </p>
      )}
      {crops.map(({ crop, varieties }) => (
        <section key={crop}>
          <h2>{crop}</h2>
          <ul className="ruled">
            {varieties.map((variety) => (
              <li key={variety.id}>
                <strong>{variety.name}</strong>
                {variety.packetClaim && (
                  <span className="soft">. The packet says: “{variety.packetClaim}”</span>
                )}
                <ul>
                  {variety.trials.map((trial) => (
                    <li key={trial.id}>
                      {sayDay(trial.plantedOn, true)}:{" "}
                      <Link href={`/trials/${trial.id}/results`}>{trial.question}</Link>
                      {trial.verdict && `; decided: ${trial.verdict}`}
                    </li>
                  ))}
                </ul>
              </li>
            ))}
          </ul>
        </section>
      ))}
    </>
  );
}
