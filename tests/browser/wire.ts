import { type ClientRequest, createServer, request, type Server } from "node:http";
import type { AddressInfo, Socket } from "node:net";

/** A wire between a browser and the site that a test can cut, and on which it can send another version of the worker. */
export interface Wire {
  /** The address of its near end; the site takes what comes over it for its own. */
  url: string;
  /** From now on nobody listens at the near end, as when home is switched off. */
  cut(): Promise<void>;
  mend(): Promise<void>;
  /** Written under the worker's script, which makes it another version. */
  workerVersion: string;
}

export async function layWire(siteUrl: string): Promise<Wire> {
  const site = new URL(siteUrl);
  const sockets = new Set<Socket>();
  let server: Server;
  const wire = { workerVersion: "" } as Wire;
  const listen = (port: number) =>
    new Promise<number>((resolve) => {
      server = createServer((asked, answer) => {
        const isWorker = asked.url === "/serwist/sw.js";
        const headers = { ...asked.headers, host: site.host, "accept-encoding": "identity" };
        if (asked.headers.origin) Object.assign(headers, { origin: site.origin });
        const onward: ClientRequest = request(
          { host: site.hostname, port: site.port, path: asked.url, method: asked.method, headers },
          (given) => {
            answer.writeHead(given.statusCode ?? 502, given.headers);
            given.pipe(answer, { end: !isWorker });
            if (isWorker) given.on("end", () => answer.end(`\n// ${wire.workerVersion}`));
          },
        );
        onward.on("error", () => answer.destroy());
        asked.pipe(onward);
      });
      server.on("connection", (socket) => {
        sockets.add(socket);
        socket.once("close", () => sockets.delete(socket));
      });
      server.listen(port, "127.0.0.1", () => resolve((server.address() as AddressInfo).port));
    });
  const port = await listen(0);
  wire.url = `http://127.0.0.1:${port}`;
  wire.cut = async () => {
    const closed = new Promise((resolve) => server.close(resolve));
    for (const socket of sockets) socket.destroy();
    await closed;
  };
  wire.mend = async () => {
    await listen(port);
  };
  return wire;
}
