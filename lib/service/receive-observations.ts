import * as z from "zod/mini";
import { inOneAct } from "@/db/open";
import { batchSchema } from "@/lib/sync/batch-schema";
import { type BatchReply, contractVersion, type FactReply } from "@/lib/sync/contract";
import { type BedFact, type Fact, isBedFact } from "@/lib/words/bed-fact";
import { bedFactMisfit, bedFactSchema } from "@/lib/words/bed-fact-schema";
import { type Outcome, quoteFound, success } from "@/lib/words/fault";
import { type Observation, observationMisfit, observationSchema } from "@/lib/words/observation";
import { brokenRule } from "./broken-rule";
import type { House } from "./house";
import { keepBedFact, keepFact, refoldTied } from "./keep-fact";
import { readForm } from "./read-form";

const identified = z.object({ id: z.string().check(z.maxLength(80)) });

function refused(id: string, place: string, found: string, wanted: string): FactReply {
  return { id, answer: "refused", place, found: quoteFound(found), wanted };
}

/** Ids mean the same in capitals: a fact is compared and kept in one plain form. */
function withPlainIds<Some extends Fact>(fact: Some): Some {
  return {
    ...fact,
    id: fact.id.toLowerCase(),
    deviceId: fact.deviceId.toLowerCase(),
    walkaboutId: fact.walkaboutId?.toLowerCase() ?? null,
    replaces: fact.replaces?.toLowerCase() ?? null,
  };
}

/** An empty cause is none, and what came with the second contract is left out where there is none. */
function inPlainForm({ clockSkewS, picture, ...fact }: Observation): Observation {
  return {
    ...withPlainIds(fact),
    cause: fact.cause?.trim() || null,
    trait: fact.trait?.trim() || null,
    ...(clockSkewS != null && { clockSkewS }),
    ...(picture != null && { picture }),
  };
}

/** The answer is under the id as it was sent, in whatever letters. */
function store(house: House, id: string, fact: Observation): FactReply {
  const reply = keepFact(house, fact);
  if (reply.answer === "recorded") refoldTied(house, [fact.id]);
  return { ...reply, id };
}

/** What a fact, read against the schema of its sort, becomes: ready to be stored, or refused for its form. */
function readFact(sent: unknown, id: string, index: number): { store(house: House): FactReply } | FactReply {
  const ofBed = typeof sent === "object" && sent !== null && isBedFact(sent);
  const form = readForm<typeof bedFactSchema | typeof observationSchema>(
    ofBed ? bedFactSchema : observationSchema,
    sent,
  );
  if (!form.ok) {
    const [fault] = form.faults;
    return refused(id, id ? fault.place : `facts.${index}`, fault.found, fault.wanted);
  }
  const misfits = (fact: Fact, misfit: { field: string; wanted: string }) => {
    const found = (fact as unknown as Record<string, unknown>)[misfit.field];
    return refused(id, misfit.field, found == null ? "" : String(found), misfit.wanted);
  };
  if (ofBed) {
    const fact = withPlainIds(form.value as BedFact);
    const misfit = bedFactMisfit(fact);
    return misfit ? misfits(fact, misfit) : { store: (house) => ({ ...keepBedFact(house, fact), id }) };
  }
  const fact = inPlainForm(form.value as Observation);
  const misfit = observationMisfit(fact);
  return misfit ? misfits(fact, misfit) : { store: (house) => store(house, id, fact) };
}

function receiveOne(house: House, sent: unknown, index: number): FactReply {
  const named = identified.safeParse(sent);
  const id = named.success ? named.data.id : "";
  const read = readFact(sent, id, index);
  if ("answer" in read) return read;
  try {
    return inOneAct(house.database, () => read.store(house));
  } catch (fault) {
    const broken = brokenRule(fault);
    if (broken) return refused(id, "fact", id, broken);
    house.report?.(fault);
    return { id, answer: "later", why: "it could not be written at home" };
  }
}

/**
 * Takes in a batch of facts: the one way in, for phone, desk, command and demo alike. Each is judged alone and kept in an
 * act of its own, so that one bad fact never stops the rest, and is on the disk before its answer is given. A fact is
 * refused when it is malformed, names no plot or bed of this garden, or comes under an id that holds another fact; never for
 * its arithmetic, since what comes late may settle it. Sending a fact again changes nothing.
 *
 * A fault is returned only for what is no batch at all.
 */
export function receiveObservations(house: House, input: unknown): Outcome<BatchReply> {
  const form = readForm(batchSchema, input);
  if (!form.ok) return form;
  const { contract, facts } = form.value;
  const understood = contract === contractVersion || contract === contractVersion - 1;
  const why =
    contract > contractVersion
      ? "the program at home is older than this one: update it there"
      : "this page is older than the program at home: load it again";
  const replies = facts.map((sent, index): FactReply => {
    if (understood) return receiveOne(house, sent, index);
    const named = identified.safeParse(sent);
    return { id: named.success ? named.data.id : "", answer: "later", why };
  });
  return success({ contract: contractVersion, serverTime: house.now(), replies });
}
