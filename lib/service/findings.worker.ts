import { parentPort } from "node:worker_threads";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import { answerOf } from "./answer-of";
import type { AsideAsked, AsideTold } from "./aside";

function told({ ask, record, options, frame }: AsideAsked): AsideTold {
  try {
    const findings = analyseTrial(record, options);
    return frame ? { ask, answer: answerOf(record, findings, frame) } : { ask, findings };
  } catch (fault) {
    return { ask, fault: fault instanceof Error ? (fault.stack ?? fault.message) : String(fault) };
  }
}

parentPort?.on("message", (asked: AsideAsked) => parentPort?.postMessage(told(asked)));
