import { NavigationRoute, type PrecacheEntry, Serwist } from "serwist";

declare const self: { __SW_MANIFEST: (PrecacheEntry | string)[] | undefined };

/**
 * The worker that lets the field screens open without home. It keeps their two shells and what those load, and nothing
 * else: no reply of `/api`, no page with records. A new version of it waits until the page says that nothing is open.
 */
const worker = new Serwist({
  precacheEntries: self.__SW_MANIFEST,
  precacheOptions: { ignoreURLParametersMatching: [/^asked$/], directoryIndex: null, cleanURLs: false },
  skipWaiting: false,
  clientsClaim: true,
  disableDevLogs: true,
});

/** Any other page comes from home; where home cannot be reached, the walkabout opens and says so. */
const fromHome = new NavigationRoute(async ({ request, url }) => {
  try {
    return await fetch(request);
  } catch {
    return Response.redirect(`/walkabout?asked=${encodeURIComponent(url.pathname)}`, 302);
  }
});
worker.registerRoute(fromHome);
worker.addEventListeners();
