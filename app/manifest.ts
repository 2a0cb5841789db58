import type { MetadataRoute } from "next";

/** What a phone needs to put the program on its home screen. */
export default function manifest(): MetadataRoute.Manifest {
  return {
    id: "/walkabout",
    name: "Proving Bed",
    short_name: "Proving Bed",
    description: "Variety trials and crop records for one garden.",
    lang: "en-GB",
    start_url: "/walkabout",
    scope: "/",
    display: "standalone",
    background_color: "#FCFBF7",
    theme_color: "#FCFBF7",
    icons: [
      { src: "/icon.svg", sizes: "any", type: "image/svg+xml" },
      { src: "/icon1.png", sizes: "192x192", type: "image/png" },
      { src: "/icon2.png", sizes: "512x512", type: "image/png", purpose: "maskable" },
      { src: "/icon2.png", sizes: "512x512", type: "image/png", purpose: "any" },
    ],
    shortcuts: [
      { name: "Walkabout", url: "/walkabout" },
      { name: "Weigh-in", url: "/weigh-in" },
    ],
  };
}
