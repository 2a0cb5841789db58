import { parentPort } from "node:worker_threads";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { manyWinters, proofs } from "@/lib/analysis/many-winters";
import { answerOf } from "./answer-of";
import type { AsideAnswers, AsideAsked, AsideTold } from "./aside";
import { keptPooledSurvival } from "./kept-pooled-survival";

function answered(asked: AsideAsked): AsideAnswers[keyof AsideAnswers] {
  switch (asked.kind) {
    case "findings":
      return analyseTrial(asked.record, asked.options);
    case "answer":
      return answerOf(asked.record, analyseTrial(asked.record, { withoutRedealing: true }), asked.frame);
    case "winters":
      return manyWinters(asked.variety, asked.trials, { pool: keptPooledSurvival });
    case "proofs":
      return proofs(asked.variety, asked.trials, { pool: keptPooledSurvival });
    case "pooled":
      return keptPooledSurvival(...asked.of);
  }
}

function told(asked: AsideAsked): AsideTold {
  const { ask } = asked;
  try {
    return { ask, answer: answered(asked) };
  } catch (fault) {
    return { ask, fault: fault instanceof Error ? (fault.stack ?? fault.message) : String(fault) };
  }
}

parentPort?.on("message", (asked: AsideAsked) => parentPort?.postMessage(told(asked)));
