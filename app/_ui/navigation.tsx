"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";
import styles from "./page.module.css";

const places = [
  { href: "/", words: "Today" },
  { href: "/walkabout", words: "Walkabout" },
  { href: "/weigh-in", words: "Weigh-in" },
  { href: "/trials", words: "Trials" },
  { href: "/garden", words: "Garden" },
  { href: "/varieties", words: "Varieties" },
  { href: "/files", words: "Files" },
] as const;

/** The places of the program; the one that is open says so. */
export function Navigation() {
  const path = usePathname();
  return (
    <nav aria-label="Places" className={styles.places}>
      <Link href="/" className={styles.brand} tabIndex={-1} aria-hidden="true">
        Proving Bed
      </Link>
      <ul className={`${styles.links} ${styles.small}`}>
        {places.map(({ href, words }) => {
          const open = href === "/" ? path === "/" : path === href || path.startsWith(`${href}/`);
          return (
            <li key={href}>
              <Link href={href} aria-current={open ? "page" : undefined}>
                {words}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}
