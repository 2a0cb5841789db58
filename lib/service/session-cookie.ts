/** The name makes the browser keep it to this host, over HTTPS only, for every path. */
const name = "__Host-proving-bed";

/** The header that hands a phone its token, or takes it away again (`maxAgeS` 0). Scripts cannot read it. */
export function sessionCookie(token: string, maxAgeS: number): string {
  return `${name}=${token}; Path=/; Max-Age=${maxAgeS}; Secure; HttpOnly; SameSite=Strict`;
}

/** The token in a request's cookies, or null. */
export function cookieToken(cookies: string | undefined): string | null {
  for (const cookie of cookies?.split(";") ?? []) {
    const [key, value] = cookie.trim().split("=", 2);
    if (key === name && /^[\w-]{43}$/.test(value ?? "")) return value;
  }
  return null;
}
