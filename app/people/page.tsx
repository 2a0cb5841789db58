import type { Metadata } from "next";
import Link from "next/link";
import { SendButton } from "@/app/_ui/button";
import page from "@/app/_ui/page.module.css";
import { PageHeader } from "@/app/_ui/page-header";
import { Section } from "@/app/_ui/section";
import type { PhoneDoor } from "@/lib/service/house";
import { openHouse } from "@/lib/service/house";
import { type PersonLine, peopleView } from "@/lib/service/people-view";
import { sayDay } from "@/lib/words/day";
import { roleWords } from "@/lib/words/person";
import { AddSomebody } from "./_parts/add-somebody";
import { PairPhone } from "./_parts/pair-phone";
import { Passphrase } from "./_parts/passphrase";
import styles from "./_parts/people.module.css";
import { endPhone, nameHere, partWith } from "./actions";

export const metadata: Metadata = { title: "People and phones" };

/** Who records, and which phones may come in. For the computer at home: the gate lets no phone reach it. */
export default function PeoplePage() {
  const { people, door } = peopleView(openHouse());
  return (
    <>
      <PageHeader
        over="Files"
        title="People and phones"
        lead="Who records, and whose phones may come in. On this computer nobody signs in: it is open to whoever sits at it."
      />
      <Section title="People">
        {people.length === 0 && <p>Nobody is named yet. A phone is paired for a person: add one first.</p>}
        <ul className={page.lines}>
          {people.map((person) => (
            <li key={person.id} className={styles.person}>
              <Person person={person} door={door} />
            </li>
          ))}
        </ul>
      </Section>
      <Section title="Add somebody">
        <AddSomebody />
      </Section>
      <Section title="Where phones come in">
        <Door door={door} />
      </Section>
    </>
  );
}

function Person({ person, door }: { person: PersonLine; door: PhoneDoor | null }) {
  const { id, name, role, atHome, hasPassphrase, sessions } = person;
  return (
    <>
      <h3>{name}</h3>
      <p className={page.aside}>
        {atHome ? "The name filled in on this computer. " : ""}On a phone {roleWords[role]}.{" "}
        {hasPassphrase ? "Has a passphrase." : "Has no passphrase."}
      </p>
      {sessions.length > 0 && (
        <ul className={styles.phones} aria-label={`Phones of ${name}`}>
          {sessions.map((session) => (
            <li key={session.id}>
              <span>
                {session.device}, {session.by === "pairing" ? "paired" : "signed in"}{" "}
                {sayDay(session.madeOn, true)}, last used {sayDay(session.usedOn, true)}
              </span>
              <form action={endPhone}>
                <input type="hidden" name="sessionId" value={session.id} />
                <SendButton manner="quiet">End it</SendButton>
              </form>
            </li>
          ))}
        </ul>
      )}
      {door && <PairPhone personId={id} name={name} />}
      <Passphrase personId={id} has={hasPassphrase} />
      <div className={page.acts}>
        <form action={nameHere}>
          <input type="hidden" name="personId" value={atHome ? "" : id} />
          <SendButton manner="quiet">
            {atHome ? "Fill in nobody’s name here" : `Fill in ${name} on this computer`}
          </SendButton>
        </form>
      </div>
      <details className={styles.fold}>
        <summary>Take {name} off the list</summary>
        <p>
          Every phone of {name} is signed out. What {name} recorded stays, under that name.
        </p>
        <form action={partWith}>
          <input type="hidden" name="personId" value={id} />
          <SendButton>Take {name} off the list</SendButton>
        </form>
      </details>
    </>
  );
}

function Door({ door }: { door: PhoneDoor | null }) {
  if (!door)
    return (
      <p>
        Phones cannot come in while Proving Bed runs like this. Stop it and start it with{" "}
        <code className={page.typed}>npm start -- --phone</code>; then a phone is paired here by a code.
      </p>
    );
  return (
    <>
      <p>Phones on the home network find this house at these addresses. Use the first one that works:</p>
      <ul>
        {door.addresses.map((address) => (
          <li key={address} className={styles.address}>
            {address}
          </li>
        ))}
      </ul>
      {door.trust && (
        <>
          <p>
            Before that each phone is told once to trust this house, at{" "}
            <span className={styles.address}>{door.trust.addresses[0]}</span>. The certificate that the phone
            shows must have this fingerprint (SHA-256):
          </p>
          <code className={styles.fingerprint}>{door.trust.fingerprint}</code>
          <p className={page.soft}>
            It can vouch for private addresses and names that end in .local only, and for no other site.
          </p>
        </>
      )}
      <p className={page.soft}>
        The app on a phone belongs to the address under which it was put there; under another address it is
        another app, with a store of its own. Before changing it send everything home, or{" "}
        <Link href="/walkabout">save what is unsent to a file</Link>.
      </p>
    </>
  );
}
