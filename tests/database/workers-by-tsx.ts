import type * as Threads from "node:worker_threads";

/**
 * The thread module with workers that read TypeScript: what the build does for the pages, tsx does for a test, which then
 * runs the real worker. To be handed to `vi.mock("node:worker_threads", …)`.
 */
export function workersByTsx(threads: typeof Threads): typeof Threads {
  class TsxWorker extends threads.Worker {
    constructor(file: string | URL, options?: Threads.WorkerOptions) {
      const script = `import("tsx/esm/api").then(({ register }) => {
        register();
        return import(${JSON.stringify(String(file))});
      });`;
      super(script, { ...options, eval: true });
    }
  }
  return { ...threads, Worker: TsxWorker };
}
