import { deviceWords } from "@/lib/service/device-words";
import { openHouse } from "@/lib/service/house";
import { sessionCookie } from "@/lib/service/session-cookie";
import { signIn } from "@/lib/service/sign-in";
import { ownPath, seeOther } from "../see-other";

export const dynamic = "force-dynamic";

/** Signs a phone in by a passphrase. How often this may be tried is the gate's to say. */
export async function POST(request: Request): Promise<Response> {
  const form = await request.formData();
  const field = (name: string) => String(form.get(name) ?? "").slice(0, 400);
  const to = ownPath(field("to"));
  const begun = await signIn(openHouse(), {
    name: field("name"),
    passphrase: field("passphrase"),
    device: deviceWords(request.headers.get("user-agent")),
  });
  if (begun) return seeOther(to, sessionCookie(begun.token, begun.maxAgeS));
  const again = new URLSearchParams({ to, name: field("name"), wrong: "" });
  return seeOther(`/sign-in?${again}`);
}
