import Link from "next/link";

export default function NotFound() {
  return (
    <>
      <h1>There is nothing at this address</h1>
      <p>
        It may have been mistyped, or belong to another garden. <Link href="/">Go to today</Link>.
      </p>
    </>
  );
}
