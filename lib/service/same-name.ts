/** Whether two names mean one thing: capitals make no difference. */
export function sameName(a: string, b: string): boolean {
  return a.toLowerCase() === b.toLowerCase();
}
