"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";
import styles from "@/app/_ui/page.module.css";

const places = [
  { path: "", words: "Plan" },
  { path: "/beds", words: "Layout" },
  { path: "/log", words: "Log" },
  { path: "/results", words: "Results" },
  { path: "/verdict", words: "Verdict" },
  { path: "/report", words: "Report" },
] as const;

/** The places of one trial, from question to decision. */
export function TrialPlaces({ trialId }: { trialId: string }) {
  const here = usePathname();
  return (
    <nav aria-label="This trial" className={styles.tabs}>
      <ul className={styles.links}>
        {places.map(({ path, words }) => {
          const href = `/trials/${trialId}${path}`;
          return (
            <li key={path}>
              <Link href={href} aria-current={here === href ? "page" : undefined}>
                {words}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}
