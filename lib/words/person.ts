import * as z from "zod/mini";

/** What a person may do away from home: everything, or only weigh what was picked. */
export const personRoles = ["gardener", "weigh only"] as const;
export type PersonRole = (typeof personRoles)[number];

export const roleWords: Readonly<Record<PersonRole, string>> = {
  gardener: "may do everything",
  "weigh only": "may only weigh what was picked",
};

export const personSchema = z.object({
  name: z.string().check(z.trim(), z.minLength(1), z.maxLength(120)),
  role: z.enum(personRoles),
});

/** Few enough to type on a phone, enough that guessing at a few a minute leads nowhere. */
export const passphraseLength = { least: 12, most: 200 } as const;
