import type { NextConfig } from "next";

const config: NextConfig = {
  poweredByHeader: false,
  reactStrictMode: true,
  // esbuild makes the phone's worker (app/serwist). All that `withSerwist` would do is to name it here.
  serverExternalPackages: ["better-sqlite3", "esbuild", "esbuild-wasm"],
};

export default config;
