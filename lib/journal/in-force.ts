import { foldOrder, type Ordered } from "./fold-order";

/** What corrections go by: facts of plots and of beds alike. */
type Correctable = Ordered & { kind: string; replaces: string | null };

/**
 * The fact that took the place of each corrected or withdrawn one, by the corrected one's id: of several, the last in
 * fold order. The one corrected need not have arrived.
 */
export function successors<Some extends Correctable>(facts: readonly Some[]): Map<string, Some> {
  const last = new Map<string, Some>();
  for (const fact of facts) {
    if (fact.replaces === null) continue;
    const rival = last.get(fact.replaces);
    if (rival === undefined || foldOrder(rival, fact) < 0) last.set(fact.replaces, fact);
  }
  return last;
}

/**
 * The facts that count, in fold order: neither corrected nor withdrawn.
 *
 * Of several corrections of one fact the last in fold order is in force. A correction may itself be corrected; the
 * end of the chain is in force. A withdrawal ends its chain: withdrawing a correction does not silently bring back what
 * that correction replaced, which must be recorded anew. Facts that replace one another in a ring all fall. The same
 * fact given twice counts once. Facts already in force pass through unchanged.
 *
 * @param facts in any order; at least every fact tied by correction to the ones of interest
 */
export function inForce<Some extends Correctable>(facts: readonly Some[]): Some[] {
  const known = new Map(facts.map((fact) => [fact.id, fact]));
  const successor = successors([...known.values()]);
  const reached = (fact: Some): boolean => {
    const passed = new Set<string>();
    for (let at = fact; ; ) {
      if (passed.has(at.id)) return false;
      passed.add(at.id);
      if (at.replaces === null) return true;
      if (successor.get(at.replaces)?.id !== at.id) return false;
      const earlier = known.get(at.replaces);
      if (earlier === undefined) return true;
      at = earlier;
    }
  };
  return [...known.values()]
    .filter((fact) => fact.kind !== "withdrawn" && !successor.has(fact.id) && reached(fact))
    .sort(foldOrder);
}
