"use client";

import { createElement, type ReactElement } from "react";
import type { SvgElement } from "@/lib/figure/svg-elements";

/**
 * The parts of a drawing, handed over as one text: a page of results has some thousand of them, and each would be taken
 * through the server's renderer on its own, which takes longer than everything else on the page.
 *
 * @param elements `SvgElement[]` as JSON
 */
export function DrawnElements({ elements }: { elements: string }): ReactElement {
  return <>{(JSON.parse(elements) as SvgElement[]).map(drawn)}</>;
}

function drawn({ tag, attributes, text, children }: SvgElement, position: number): ReactElement {
  const named = Object.fromEntries(
    Object.entries(attributes).map(([name, value]) => [reactName(name), value]),
  );
  return createElement(tag, { ...named, key: position }, text ?? children?.map(drawn));
}

/** `stroke-width` as React has it; names that hold no hyphen stay. */
function reactName(name: string): string {
  return name.includes("-")
    ? name.replaceAll(/-([a-z])/g, (_, letter: string) => letter.toUpperCase())
    : name;
}
