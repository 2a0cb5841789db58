import Link from "next/link";
import { PageHeader } from "./_ui/page-header";

export default function NotFound() {
  return (
    <>
      <PageHeader title="There is nothing at this address" />
      <p>
        It may have been mistyped, or belong to another garden. <Link href="/">Go to today</Link>
      </p>
    </>
  );
}
