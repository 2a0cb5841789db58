import type { ImportAnswer, ImportAsked, ImportKind } from "@/lib/service/import-asked";
import type { FilesLook } from "@/lib/service/look-at-files";
import type { Fault } from "@/lib/words/fault";

/** What is said when home cannot be heard: whether it was done is told by trying again. */
const unreachable: Fault = {
  place: "file",
  found: "no answer from Proving Bed",
  wanted: "to try again; what came in already does not come in twice",
};

async function answerOf<Answer>(asking: Promise<Response>): Promise<Answer | { faults: Fault[] }> {
  try {
    const response = await asking;
    const isJson = response.headers.get("Content-Type")?.includes("json");
    if (isJson) return await response.json();
    const words = (await response.text()).trim();
    return { faults: [{ place: "file", found: words || "no answer", wanted: "to try again" }] };
  } catch {
    return { faults: [unreachable] };
  }
}

/** Sends files to be looked at, one after the other; they make one set. */
export async function sendFiles(
  files: readonly File[],
  signal: AbortSignal,
): Promise<{ set: string } | { faults: Fault[] }> {
  let set: string | null = null;
  for (const file of files) {
    const query = new URLSearchParams({ name: file.name, ...(set && { set }) });
    const answer: { set: string } | { faults: Fault[] } = await answerOf<{ set: string }>(
      fetch(`/api/import?${query}`, { method: "POST", body: file, signal }),
    );
    if ("faults" in answer) return answer;
    set = answer.set;
  }
  return set === null ? { faults: [{ place: "file", found: "nothing", wanted: "a file" }] } : { set };
}

/** What a set holds at first sight. */
export function lookAt(set: string, kind: ImportKind): Promise<FilesLook> {
  return answerOf(fetch(`/api/import/look?${new URLSearchParams({ set, kind })}`));
}

/** Asks for a stop; what came of it is told by the answer of `runSet`. */
export async function stopSet(set: string): Promise<void> {
  await fetch(`/api/import/run?${new URLSearchParams({ set })}`, { method: "DELETE" }).catch(() => null);
}

/** Tries a set or takes it in, telling how far it is from 0 to 1. */
export async function runSet(
  work: { set: string; asked: ImportAsked; isWriting: boolean },
  tell: (part: number) => void,
): Promise<ImportAnswer> {
  const faulty = (faults: Fault[]): ImportAnswer => ({ state: "faulty", faults, count: faults.length });
  try {
    const response = await fetch("/api/import/run", { method: "POST", body: JSON.stringify(work) });
    if (!response.ok || !response.body) return faulty([unreachable]);
    const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
    let waiting = "";
    for (;;) {
      const { value, done } = await reader.read();
      if (done) return faulty([unreachable]);
      const lines = (waiting + value).split("\n");
      waiting = lines.pop() ?? "";
      for (const line of lines) {
        const told: { part: number } | { answer: ImportAnswer } = JSON.parse(line);
        if ("answer" in told) return told.answer;
        tell(told.part);
      }
    }
  } catch {
    return faulty([unreachable]);
  }
}
