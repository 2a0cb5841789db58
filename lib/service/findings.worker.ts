import { parentPort } from "node:worker_threads";
import { analyseTrial } from "@/lib/analysis/analyse-trial";
import type { FindingsAnswered, FindingsAsked } from "./whole-findings";

parentPort?.on("message", ({ ask, record, options }: FindingsAsked) => {
  let answer: FindingsAnswered;
  try {
    answer = { ask, findings: analyseTrial(record, options) };
  } catch (fault) {
    answer = { ask, fault: fault instanceof Error ? (fault.stack ?? fault.message) : String(fault) };
  }
  parentPort?.postMessage(answer);
});
