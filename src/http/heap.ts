import { getHeapStatistics, setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/** What a thread may keep of its heap between audits; an audit of a usual archive stays below. */
const KEPT_BYTES = 96 * 1024 * 1024;

/**
 * Gives the memory of a large audit back. The engine collects garbage when it needs room, and a thread that waits for
 * its next audit needs none: it would hold all that the last one took for as long as it waits. The engine offers no
 * other way to ask for a collection than this function behind a flag.
 */
export function giveMemoryBack(): void {
  if (getHeapStatistics().total_heap_size <= KEPT_BYTES) return;
  setFlagsFromString('--expose-gc'); // for contexts made from here on
  const collectGarbage: () => void = runInNewContext('gc');
  collectGarbage();
  collectGarbage(); // the first one leaves much of what it freed to be handed back to the system later
}
