import * as z from "zod/mini";
import { batchLimit } from "./contract";

/** What a device sends to `POST /api/observations`. Each fact is judged alone: a bad one never stops the rest. */
export const batchSchema = z.object({
  contract: z.int(),
  facts: z.array(z.unknown()).check(z.maxLength(batchLimit.facts)),
});
