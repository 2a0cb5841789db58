import "@fontsource-variable/atkinson-hyperlegible-next/wght.css";
import "./globals.css";
import type { Metadata, Viewport } from "next";
import type { ReactNode } from "react";
import { Navigation } from "./_ui/navigation";
import styles from "./_ui/page.module.css";

export const metadata: Metadata = {
  title: { template: "%s · Proving Bed", default: "Proving Bed" },
  description: "Variety trials and crop records for one garden.",
};

export const viewport: Viewport = {
  themeColor: [
    { media: "(prefers-color-scheme: light)", color: "#FCFBF7" },
    { media: "(prefers-color-scheme: dark)", color: "#151B18" },
  ],
};

/** Every page is made when it is asked for: it reads the garden's file, and its scripts carry that answer's nonce. */
export const dynamic = "force-dynamic";

export default function RootLayout({ children }: { children: ReactNode }) {
  return (
    <html lang="en-GB">
      <body>
        <a href="#main" className={styles.skip}>
          Skip to the page
        </a>
        <header className={styles.top}>
          <Navigation />
        </header>
        <main id="main" className={styles.main} tabIndex={-1}>
          {children}
        </main>
      </body>
    </html>
  );
}
