import { answerPlainly, type Pages } from "./gated";

/** What is shown while there are no pages: it asks again by itself. Words are ours, never what somebody typed. */
export function holdingPage(words: { title: string; heading: string; text: string; api: string }): Pages {
  return (request, answer) => {
    answer.setHeader("Retry-After", "2");
    if (request.url?.startsWith("/api/")) {
      // What was sent is not read, so the connection cannot be used again.
      answer.setHeader("Connection", "close");
      answerPlainly(answer, 503, words.api);
      return;
    }
    answer.writeHead(503, {
      "Content-Type": "text/html; charset=utf-8",
      "Cache-Control": "no-store",
      "Content-Security-Policy": "default-src 'none'",
    });
    answer.end(
      '<!doctype html><html lang="en-GB"><meta charset="utf-8"><meta http-equiv="refresh" content="2">' +
        '<meta name="viewport" content="width=device-width, initial-scale=1">' +
        `<title>${words.title}</title><h1>${words.heading}</h1><p>${words.text}</p>`,
    );
  };
}
