import type { Metadata } from "next";
import { headers } from "next/headers";
import Link from "next/link";
import { SendButton } from "@/app/_ui/button";
import form from "@/app/_ui/form.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { askedBy } from "@/lib/service/asked-by";
import { openHouse } from "@/lib/service/house";

export const metadata: Metadata = { title: "Sign in" };

const faultWords = "This name and passphrase do not belong together, or no passphrase was set for the name.";

type Query = { searchParams: Promise<{ to?: string | string[]; name?: string | string[]; wrong?: string }> };

const one = (value: string | string[] | undefined) => (typeof value === "string" ? value : "");

/** For a phone that is not paired. It says of nobody whether they are known here. */
export default async function SignInPage({ searchParams }: Query) {
  const { to, name, wrong } = await searchParams;
  const asked = askedBy(openHouse(), await headers());
  if (asked.atHome)
    return (
      <>
        <PageHeader title="Nobody signs in here" />
        <p>
          On the computer at home everything is open to whoever sits at it. Phones sign in; they are paired
          under <Link href="/people">People and phones</Link>.
        </p>
      </>
    );
  if (asked.person)
    return (
      <>
        <PageHeader title={`Signed in as ${asked.person.name}`} />
        <p>
          <Link href="/weigh-in">Weigh-in</Link>
          {asked.person.role === "gardener" && (
            <>
              {" · "}
              <Link href="/walkabout">Walkabout</Link>
            </>
          )}
        </p>
        <form method="post" action="/sign-in/leave">
          <p>What is on this phone and not home yet stays on it, and is sent after the next signing in.</p>
          <SendButton>Sign out on this phone</SendButton>
        </form>
      </>
    );
  return (
    <>
      <PageHeader
        title="Sign in"
        lead="A phone that is paired at home, under People and phones, stays signed in and needs no passphrase."
      />
      <form method="post" action="/sign-in/enter" className={form.form}>
        {wrong !== undefined && (
          <p className={form.fault} role="alert">
            {faultWords}
          </p>
        )}
        <input type="hidden" name="to" value={one(to)} />
        <div className={form.field}>
          <label className={form.label} htmlFor="name">
            Name
          </label>
          <input
            id="name"
            name="name"
            className={form.input}
            defaultValue={one(name)}
            autoComplete="username"
            maxLength={120}
            required
          />
        </div>
        <div className={form.field}>
          <label className={form.label} htmlFor="passphrase">
            Passphrase
          </label>
          <input
            id="passphrase"
            name="passphrase"
            type="password"
            className={form.input}
            autoComplete="current-password"
            maxLength={400}
            required
          />
        </div>
        <SendButton manner="main">Sign in</SendButton>
      </form>
    </>
  );
}
