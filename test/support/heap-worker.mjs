import { constants, PerformanceObserver } from 'node:perf_hooks';
import { setTimeout as pause } from 'node:timers/promises';
import { getHeapStatistics } from 'node:v8';
import audit from '../../dist/http/worker.js';

let forced = 0;
new PerformanceObserver((list) => {
  for (const { detail } of list.getEntries()) if (detail.flags & constants.NODE_PERFORMANCE_GC_FLAGS_FORCED) forced++;
}).observe({ entryTypes: ['gc'] });

/**
 * The worker as it ships, answering with what the audit left: the heap of its thread, and how many collections it asked for.
 * @param {import('../../src/http/worker.js').AuditTask} task
 */
export default async function run(task) {
  const before = forced;
  await audit(task);
  const heapMib = getHeapStatistics().total_heap_size / 1024 / 1024;
  await pause(50); // collections are told of a little later
  return { body: Buffer.from(JSON.stringify({ heapMib, collections: forced - before })), ruleFailures: [] };
}
