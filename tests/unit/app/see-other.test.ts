import { expect, it } from "vitest";
import { ownPath, seeOther } from "@/app/sign-in/see-other";

it.each(["/walkabout", "/trials/0193a1b2-0000-7000-8000-0000000000aa/results", "/"])(
  "signing in goes on to %s, which was asked for",
  (path) => expect(ownPath(path)).toBe(path),
);

it.each([
  "",
  "//evil.example",
  "/\\evil.example",
  "https://evil.example",
  "javascript:alert(1)",
  "/a?b",
  "/a\r\nb",
  "trials",
])("signing in never goes on to %j", (path) => expect(ownPath(path)).toBe("/"));

it("an answer that leads on is kept by no cache", () => {
  const answer = seeOther("/walkabout", "a=b");
  expect([answer.status, answer.headers.get("Location")]).toEqual([303, "/walkabout"]);
  expect([answer.headers.get("Cache-Control"), answer.headers.get("Set-Cookie")]).toEqual([
    "no-store",
    "a=b",
  ]);
});
