/** Sends the browser on to another page of ours, maybe with its session's cookie. */
export function seeOther(path: string, cookie?: string): Response {
  const headers = new Headers({ Location: path, "Cache-Control": "no-store" });
  if (cookie) headers.set("Set-Cookie", cookie);
  return new Response(null, { status: 303, headers });
}

/** The page that was asked for before signing in; never another site's. */
export function ownPath(asked: string): string {
  return /^\/(?![/\\])[\w/.~-]*$/.test(asked) ? asked : "/";
}
