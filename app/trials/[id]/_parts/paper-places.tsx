import Link from "next/link";
import styles from "@/app/_ui/page.module.css";

const papers = [
  { path: "/beds", words: "The layout to plant by" },
  { path: "/sowing-list", words: "Sowing list" },
  { path: "/stake-labels", words: "Stake labels" },
  { path: "/field-sheet", words: "Field sheet for a day without a phone" },
] as const;

/** What of a trial can be printed; not itself printed. */
export function PaperPlaces({ trialId, here }: { trialId: string; here: (typeof papers)[number]["path"] }) {
  return (
    <nav aria-label="To print" className={styles.acts}>
      <ul>
        {papers.map(({ path, words }) => (
          <li key={path}>
            {path === here ? (
              <strong>{words}</strong>
            ) : (
              <Link href={`/trials/${trialId}${path}`}>{words}</Link>
            )}
          </li>
        ))}
      </ul>
    </nav>
  );
}
