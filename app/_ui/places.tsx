"use client";

import Link from "next/link";
import { usePathname } from "next/navigation";

const places = [
  { href: "/", words: "Today" },
  { href: "/walkabout", words: "Walkabout" },
  { href: "/weigh-in", words: "Weigh-in" },
  { href: "/trials", words: "Trials" },
  { href: "/garden", words: "Garden" },
  { href: "/varieties", words: "Varieties" },
] as const;

/** The places of the house; the one we are in is marked for eyes and ears alike. */
export function Places() {
  const path = usePathname();
  return (
    <nav aria-label="Places" className="places">
      <ul>
        {places.map(({ href, words }) => {
          const here = href === "/" ? path === "/" : path === href || path.startsWith(`${href}/`);
          return (
            <li key={href}>
              <Link href={href} aria-current={here ? "page" : undefined}>
                {words}
              </Link>
            </li>
          );
        })}
      </ul>
    </nav>
  );
}
