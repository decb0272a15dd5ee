// @ts-check
import { writeSync } from 'node:fs';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { isMainThread } from 'node:worker_threads';

/** Loaded before the service: when it ends, its longest event loop delay (ms) is written to descriptor 3. */
if (isMainThread) {
  const delay = monitorEventLoopDelay({ resolution: 5 });
  // What loads the service blocks it too, and nobody waits for an answer then.
  setTimeout(() => delay.enable(), 1000).unref();
  process.on('exit', () => writeSync(3, String(delay.max / 1e6)));
}
