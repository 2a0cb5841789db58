import type { Metadata } from "next";
import { headers } from "next/headers";
import Link from "next/link";
import { SendButton } from "@/app/_ui/button";
import { PageHeader } from "@/app/_ui/page-header";
import { askedBy } from "@/lib/service/asked-by";
import { openHouse } from "@/lib/service/house";
import { pairingFor } from "@/lib/service/pairing-for";

export const metadata: Metadata = { title: "Pair this phone" };

type Query = { searchParams: Promise<{ t?: string | string[] }> };

/** Where the code at home leads. Opening it uses nothing up, since cameras look at addresses by themselves. */
export default async function PairPage({ searchParams }: Query) {
  const { t } = await searchParams;
  const token = typeof t === "string" ? t : "";
  const house = openHouse();
  if (askedBy(house, await headers()).atHome)
    return (
      <>
        <PageHeader title="This is for a phone" />
        <p>
          The code is read with the phone’s camera. It is under <Link href="/people">People and phones</Link>.
        </p>
      </>
    );
  const name = pairingFor(house, token);
  if (name === null)
    return (
      <>
        <PageHeader title="This code cannot be used" />
        <p>
          A code works once and for ten minutes. Ask for a new one at home, under People and phones, or{" "}
          <Link href="/sign-in">sign in with a passphrase</Link>.
        </p>
      </>
    );
  return (
    <>
      <PageHeader title={`Pair this phone for ${name}`} />
      <form method="post" action="/pair/use">
        <p>
          It then stays signed in until it has not been used for 400 days, or until that is ended at home
          under People and phones.
        </p>
        <input type="hidden" name="t" value={token} />
        <SendButton manner="main">Pair this phone</SendButton>
      </form>
    </>
  );
}
