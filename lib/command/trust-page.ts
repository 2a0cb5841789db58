import { X509Certificate } from "node:crypto";
import type { IncomingMessage, ServerResponse } from "node:http";
import { safetyHeaders } from "./gate";
import { answerPlainly } from "./gated";

const certificatePath = "/proving-bed.crt";

const style =
  "body{font:17px/1.5 system-ui,sans-serif;color:#16211C;background:#FCFBF7;max-width:40rem;margin:0 auto;padding:1rem}" +
  "code{font-size:15px;overflow-wrap:anywhere}a.get{display:inline-block;padding:.9rem 1.2rem;border:2px solid #1C4F7C;" +
  "border-radius:2px;color:#1C4F7C;font-weight:600}li{margin:.4rem 0}h2{font-size:20px;margin-top:1.6rem}" +
  "@media(prefers-color-scheme:dark){body{color:#ECEAE2;background:#151B18}a.get{color:#9CC5E8;border-color:#9CC5E8}a{color:#9CC5E8}}";

function page(fingerprint: string, address: string): string {
  return `<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Trust this house · Proving Bed</title><style>${style}</style></head><body><main>
<h1>Trust this house, once on each phone</h1>
<p>A phone works without a signal only with a page that it trusts. This certificate lets it trust the Proving Bed in this
house. It can vouch for private addresses and for names that end in .local only, so it opens no other site to anybody.</p>
<p><a class="get" href="${certificatePath}" download>Fetch the certificate</a></p>
<p>Its fingerprint (SHA-256), <strong>to be compared with the one on the computer’s screen</strong>, where Proving Bed
was started or under People and phones:</p>
<p><code>${fingerprint}</code></p>
<p>This page could be a forged one; the computer’s screen is not. Compare what the phone shows when it installs. If they
differ, do not go on.</p>
<h2>On an iPhone or iPad</h2>
<ol><li>Open this page in Safari and tap <em>Fetch the certificate</em>; allow the download.</li>
<li>Settings, <em>Profile Downloaded</em>, then <em>Install</em>. Under <em>More Details</em> stands the fingerprint.</li>
<li>Settings, General, About, <em>Certificate Trust Settings</em>: switch it on for Proving Bed.</li></ol>
<h2>On an Android phone</h2>
<ol><li>Tap <em>Fetch the certificate</em>; keep the file.</li>
<li>Settings, Security, <em>More security settings</em>, <em>Encryption and credentials</em>, <em>Install a
certificate</em>, <em>CA certificate</em>. Makers word it differently: search the settings for <em>certificate</em>.</li>
<li>The phone warns that traffic could be watched. For this one it could be, by whoever has the computer at home, and only
for private addresses and .local names.</li>
<li>Under <em>Trusted credentials</em>, <em>User</em>, the fingerprint can be read.</li></ol>
<h2>Then</h2>
<p>Pair the phone with the code under People and phones on the computer, or open
<a href="${address}/sign-in">${address}</a> and sign in. Then put it on the home screen from the browser’s menu.</p>
<p>To take the trust back, remove the certificate or profile in the same settings.</p>
</main></body></html>
`;
}

/** A certificate's SHA-256 in pairs, as phones show it. */
export function sayFingerprint(certificate: string): string {
  return new X509Certificate(certificate).fingerprint256.replaceAll(":", " ");
}

/**
 * The page on the home network that is not encrypted: the certificate, its fingerprint, and what to do with them. There
 * is nothing else behind it; it knows neither the pages nor the garden.
 */
export function trustPage(certificate: string, address: string) {
  const read = new X509Certificate(certificate);
  const html = page(sayFingerprint(certificate), address);
  return (request: IncomingMessage, answer: ServerResponse) => {
    for (const [name, value] of Object.entries(safetyHeaders)) answer.setHeader(name, value);
    answer.setHeader("Cache-Control", "no-store");
    answer.setHeader("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'");
    if (request.method !== "GET" && request.method !== "HEAD") {
      answer.setHeader("Connection", "close");
      return answerPlainly(answer, 405, "Nothing can be sent here.");
    }
    const path = request.url?.split("?")[0];
    if (path === "/") {
      answer.writeHead(200, { "Content-Type": "text/html; charset=utf-8" });
      answer.end(html);
    } else if (path === certificatePath) {
      answer.writeHead(200, {
        "Content-Type": "application/x-x509-ca-cert",
        "Content-Disposition": 'attachment; filename="proving-bed.crt"',
      });
      answer.end(read.raw);
    } else answerPlainly(answer, 404, "There is only the certificate here. Everything else is encrypted.");
  };
}
