import { seeOther } from "@/app/sign-in/see-other";
import { askedBy } from "@/lib/service/asked-by";
import { deviceWords } from "@/lib/service/device-words";
import { openHouse } from "@/lib/service/house";
import { pairPhone } from "@/lib/service/pair-phone";
import { sessionCookie } from "@/lib/service/session-cookie";

export const dynamic = "force-dynamic";

/** Uses a code up and signs this phone in. */
export async function POST(request: Request): Promise<Response> {
  const house = openHouse();
  if (askedBy(house, request.headers).atHome) return seeOther("/people");
  const form = await request.formData();
  const token = String(form.get("t") ?? "").slice(0, 100);
  const device = deviceWords(request.headers.get("user-agent"));
  const paired = pairPhone(house, { token, device });
  if (!paired) return seeOther("/pair");
  const first = paired.role === "gardener" ? "/walkabout" : "/weigh-in";
  return seeOther(first, sessionCookie(paired.token, paired.maxAgeS));
}
