// @ts-check
import { readFileSync, writeSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';

/**
 * Loaded before the service. When that ends, its longest event loop delay is written to descriptor 3, in ms, and how
 * much of a delay it ever worked itself: the rest of the time the processors were with others.
 */
const EVERY_MS = 5;
/** What loads the service blocks it too, and nobody waits for an answer then. */
const AFTER_MS = 1000;

/** Time that the main thread has had a processor, in ms. */
const workedMs = () => Number(readFileSync(`/proc/self/task/${process.pid}/schedstat`, 'latin1').split(' ')[0]) / 1e6;

function watch() {
  let [last, worked] = [performance.now(), workedMs()];
  const longest = { loopDelayMs: 0, loopWorkMs: 0 };
  setInterval(() => {
    const [now, workedNow] = [performance.now(), workedMs()];
    longest.loopDelayMs = Math.max(longest.loopDelayMs, now - last - EVERY_MS);
    longest.loopWorkMs = Math.max(longest.loopWorkMs, workedNow - worked);
    [last, worked] = [now, workedNow];
  }, EVERY_MS).unref();
  process.on('exit', () =>
    writeSync(
      3,
      JSON.stringify(longest, (_, ms) => (typeof ms === 'number' ? Math.round(ms) : ms)),
    ),
  );
}

if (isMainThread) setTimeout(watch, AFTER_MS).unref();
