import * as z from "zod/mini";
import { addImportedFile } from "@/db/queries/add-imported-file";
import { findGarden } from "@/db/queries/find-garden";
import { listCauses } from "@/db/queries/list-causes";
import { decodeChunks } from "@/lib/records/encoding";
import type { SourceFile } from "@/lib/records/open-table";
import { batchLimit, type FactReply } from "@/lib/sync/contract";
import { sayBedFact } from "@/lib/words/bed-fact";
import { bedFactSchema } from "@/lib/words/bed-fact-schema";
import { beginSentence } from "@/lib/words/begin-sentence";
import { sayDay } from "@/lib/words/day";
import { type Observation, observationSchema } from "@/lib/words/observation";
import { sayObservation } from "@/lib/words/say-observation";
import type { House } from "./house";
import type { ImportAnswer, UnsentReply } from "./import-asked";
import { contentHash } from "./import-table";
import { receiveObservations } from "./receive-observations";

const unsentSchema = z.object({
  what: z.literal("Proving Bed: facts that are not yet home"),
  contract: z.int(),
  facts: z.array(z.unknown()).check(z.maxLength(100_000)),
});

/** What a fact says, with its day and who saw it, as far as it can be read. */
function sayFact(house: House, fact: unknown): Omit<UnsentReply, "answer"> {
  const ofPlot = observationSchema.safeParse(fact);
  const ofBed = ofPlot.success ? null : bedFactSchema.safeParse(fact);
  const read = ofPlot.success ? ofPlot.data : ofBed?.success ? ofBed.data : null;
  if (!read) return { what: "A fact that cannot be read", seenOn: "", by: "" };
  const causes = new Map(listCauses(house.database).map(({ code, words }) => [code, words]));
  const words = ofPlot.success
    ? sayObservation(ofPlot.data as Observation, (code) => causes.get(code) ?? code.replaceAll("-", " "))
    : sayBedFact(read as z.output<typeof bedFactSchema>);
  return {
    what: beginSentence(words),
    seenOn: sayDay(read.seenOn as Observation["seenOn"], true),
    by: read.by,
  };
}

function sayReply(reply: FactReply): string {
  switch (reply.answer) {
    case "recorded":
      return "recorded";
    case "already":
      return "here already";
    case "refused":
      return `refused: ${reply.place} is ${reply.found}; wanted: ${reply.wanted}`;
    case "later":
      return `not taken in now: ${reply.why}`;
  }
}

/**
 * Takes in the facts that a phone could not send, from the file that it saved: the same way as from the phone itself, each
 * judged alone. Trying it first tells how many there are.
 */
export function importUnsent(house: House, file: SourceFile, isWriting: boolean): ImportAnswer {
  const { database } = house;
  const refuse = (found: string): ImportAnswer => ({
    state: "faulty",
    faults: [{ place: `${file.name}:1:1`, found, wanted: "a file of facts that a phone saved" }],
    count: 1,
  });
  let sent: unknown;
  try {
    sent = JSON.parse([...decodeChunks(file.chunks(), "utf-8")].join(""));
  } catch {
    return refuse("a file of another kind");
  }
  const form = unsentSchema.safeParse(sent);
  if (!form.success) return refuse("a file of another kind");
  const { contract, facts } = form.data;
  const tally = { rows: facts.length, added: 0, already: 0 };
  if (facts.length === 0) return refuse("no facts");
  const rest = { said: [], trialId: null };
  if (!isWriting) {
    const replies = facts.slice(0, 200).map((fact) => ({ ...sayFact(house, fact), answer: "" }));
    return { state: "ready", ...tally, added: facts.length, ...rest, replies };
  }
  const replies: UnsentReply[] = [];
  for (let at = 0; at < facts.length; at += batchLimit.facts) {
    const batch = facts.slice(at, at + batchLimit.facts);
    const answer = receiveObservations(house, { contract, facts: batch });
    if (!answer.ok) return refuse(answer.faults[0].found);
    answer.value.replies.forEach((reply, index) => {
      if (reply.answer === "recorded") tally.added += 1;
      if (reply.answer === "already") tally.already += 1;
      replies.push({ ...sayFact(house, batch[index]), answer: sayReply(reply) });
    });
  }
  const gardenId = findGarden(database)?.id;
  if (gardenId && tally.added > 0)
    addImportedFile(database, {
      id: house.newId(),
      gardenId,
      kind: "unsent",
      trialId: null,
      name: file.name,
      contentHash: contentHash([file]),
      rowCount: tally.rows,
      added: tally.added,
      importedAt: house.now(),
    });
  return { state: "done", ...tally, ...rest, replies };
}
