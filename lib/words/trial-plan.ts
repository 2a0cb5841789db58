import * as z from "zod/mini";
import { daySchema } from "./observation";
import { assessmentNames, companionHabits, designs, gradients, pathSides } from "./trial";

const name = z.string().check(z.trim(), z.minLength(1), z.maxLength(80));
const longText = z.string().check(z.trim(), z.maxLength(10_000));
const share = z.number().check(z.minimum(0), z.maximum(1));

/** A crop between the plants. */
const companionSchema = z.object({
  name,
  habit: z.enum(companionHabits),
  sownOn: daySchema,
  betweenPlantsMm: z.int().check(z.minimum(10), z.maximum(5_000)),
});

/**
 * A trial as it is asked for, before anything is dealt: what the planning form, the demo and a later import all hand
 * to `createTrial`. Names refer to existing crops, varieties, beds and covers or make new ones.
 */
export const trialPlanSchema = z.object({
  /** The id that the trial will have, made where the plan was opened: a plan that is sent twice makes one trial. */
  id: z.optional(z.uuid()),
  question: z.string().check(z.trim(), z.minLength(1), z.maxLength(300)),
  /** What the crop is wanted for: *winter leaf*, *base of a mix*. */
  purpose: z.string().check(z.trim(), z.maxLength(120)),
  crop: name,
  entries: z
    .array(
      z.object({
        variety: name,
        packetClaim: z.nullable(longText),
        role: z.enum(["check", "tender-check", "entry"]),
      }),
    )
    .check(z.minLength(2), z.maxLength(60)),
  beds: z
    .array(
      z.object({
        name,
        widthMm: z.int().check(z.minimum(100)),
        lengthMm: z.int().check(z.minimum(100)),
        /** The size of a pot along the row, where the bed is a row of pots and each pot a plot. */
        potMm: z.optional(z.int().check(z.minimum(50), z.maximum(2_000))),
        /** Stretches that something fixed takes up from side to side, measured from the path end. */
        takenUp: z.optional(
          z
            .array(z.object({ fromMm: z.int().check(z.minimum(0)), toMm: z.int().check(z.minimum(1)) }))
            .check(z.maxLength(6)),
        ),
      }),
    )
    .check(z.minLength(1), z.maxLength(6)),
  /** What a split plot deals to whole main plots: covers, of which none is open ground; sowing dates; or companions, of which none is the crop alone. */
  mainPlots: z.optional(
    z.nullable(
      z.discriminatedUnion("factor", [
        z.object({
          factor: z.literal("cover"),
          levels: z
            .array(
              z.object({
                cover: z.nullable(z.object({ name, kind: name })),
                fromOn: z.nullable(daySchema),
                untilOn: z.nullable(daySchema),
              }),
            )
            .check(z.minLength(2), z.maxLength(4)),
        }),
        z.object({
          factor: z.literal("sowing"),
          levels: z.array(z.object({ sownOn: daySchema })).check(z.minLength(2), z.maxLength(4)),
        }),
        z.object({
          factor: z.literal("companion"),
          levels: z
            .array(z.object({ companion: z.nullable(companionSchema) }))
            .check(z.minLength(2), z.maxLength(4)),
        }),
      ]),
    ),
  ),
  /** Small blocks only: the most plots in one. */
  plotsPerBlock: z.optional(z.nullable(z.int().check(z.minimum(2), z.maximum(40)))),
  /** Which way the ground changes, where the grower knows it. */
  gradient: z.optional(z.nullable(z.enum(gradients))),
  /** Where the path runs; at the left hand where nothing is said. */
  pathSide: z.optional(z.nullable(z.enum(pathSides))),
  /** Rows of guard plants all round. */
  guardRows: z.optional(z.int().check(z.minimum(0), z.maximum(3))),
  /** Crops that stand between the plants of every plot. */
  companions: z.optional(z.array(companionSchema).check(z.maxLength(3))),
  /** Every cover that stands over the whole trial, outermost first; none is open ground. */
  covers: z.array(z.object({ name, kind: name, fromOn: daySchema, untilOn: z.nullable(daySchema) })),
  design: z.enum(designs),
  seed: z.int().check(z.minimum(0), z.maximum(4_294_967_295)),
  blocks: z.int().check(z.minimum(1), z.maximum(40)),
  plantsPerPlot: z.int().check(z.minimum(1), z.maximum(500)),
  betweenPlantsMm: z.int().check(z.minimum(10), z.maximum(5_000)),
  betweenRowsMm: z.int().check(z.minimum(10), z.maximum(5_000)),
  sownOn: daySchema,
  plantedOn: daySchema,
  assessments: z.array(z.object({ name: z.enum(assessmentNames), dueOn: daySchema })).check(z.minLength(1)),
  /** The assessment whose survival the rule decides on. */
  decidingAssessment: z.enum(assessmentNames),
  pickingRule: longText,
  clearBy: z.nullable(daySchema),
  fallbackOn: z.nullable(daySchema),
  rule: z.object({
    survivalFloor: z.nullable(share),
    yieldFloor: z.nullable(z.number().check(z.minimum(0), z.maximum(5))),
    sureness: z.number().check(z.minimum(0.5), z.maximum(0.99)),
    qualities: z.array(z.object({ trait: name, weight: z.enum(["must", "counts for", "noted"]) })),
  }),
});

export type TrialPlan = z.infer<typeof trialPlanSchema>;
