import { createSerwistRoute } from "@serwist/turbopack";
import { ofShells, shellEntries } from "@/app/offline/shell-files";

/** The worker that keeps the field screens on the phone, made when the pages are built: `/serwist/sw.js`. */
export const { dynamic, dynamicParams, revalidate, generateStaticParams, GET } = createSerwistRoute({
  swSrc: "app/offline/worker.ts",
  useNativeEsbuild: true,
  esbuildOptions: { sourcemap: false },
  globPatterns: [".next/static/**/*.{js,css,woff2}"],
  additionalPrecacheEntries: shellEntries(),
  manifestTransforms: [ofShells],
});
