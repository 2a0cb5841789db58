import { askedBy } from "@/lib/service/asked-by";
import { endSession } from "@/lib/service/end-session";
import { openHouse } from "@/lib/service/house";
import { sessionCookie } from "@/lib/service/session-cookie";
import { seeOther } from "../see-other";

export const dynamic = "force-dynamic";

/** Ends this phone's session. */
export function POST(request: Request): Response {
  const house = openHouse();
  const { sessionId } = askedBy(house, request.headers);
  if (sessionId) endSession(house, sessionId);
  return seeOther("/sign-in", sessionCookie("", 0));
}
