import type { BatchReply, FactReply } from "@/lib/sync/contract";
import { isInstant } from "@/lib/words/instant";

function isText(value: unknown): value is string {
  return typeof value === "string";
}

function readAnswer(value: unknown): FactReply | null {
  if (typeof value !== "object" || value === null) return null;
  const { id, answer, place, found, wanted, why } = value as Record<string, unknown>;
  if (!isText(id)) return null;
  if (answer === "recorded" || answer === "already") return { id, answer };
  if (answer === "refused")
    return {
      id,
      answer,
      place: isText(place) ? place : "fact",
      found: isText(found) ? found : "this fact",
      wanted: isText(wanted) ? wanted : "a fact that home can take",
    };
  if (answer === "later") return { id, answer, why: isText(why) ? why : "" };
  return null;
}

/**
 * Reads what home answered; null when it is no reply of ours (a sign-in page, half a body, an error in JSON). An
 * answer that cannot be read, one of a later version for instance, is left out: its fact then waits.
 */
export function readReply(text: string): BatchReply | null {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof value !== "object" || value === null) return null;
  const { contract, serverTime, replies } = value as Record<string, unknown>;
  if (
    typeof contract !== "number" ||
    !isText(serverTime) ||
    !isInstant(serverTime) ||
    !Array.isArray(replies)
  )
    return null;
  return {
    contract,
    serverTime,
    replies: replies.map(readAnswer).filter((answer) => answer !== null),
  };
}
