const kinds: [RegExp, string][] = [
  [/iPhone/, "iPhone"],
  [/iPad/, "iPad"],
  [/Android/, "Android"],
  [/Macintosh/, "Mac"],
  [/Windows/, "Windows computer"],
  [/Linux/, "Linux computer"],
];

/** What sort of device a browser says that it is on, to tell one's phones apart by. */
export function deviceWords(userAgent: string | null): string {
  return kinds.find(([pattern]) => pattern.test(userAgent ?? ""))?.[1] ?? "device of an unknown kind";
}
