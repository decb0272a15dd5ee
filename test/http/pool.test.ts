import { expect, it } from 'vitest';
import { poolOf, taskOf } from '../support/server.js';

// One that is ended in the middle of `require` takes the process with it (node 20.20), which is seen once in many starts.
it('a thread loads its file by import, so that it can be ended at any moment of its start', async () => {
  const pool = poolOf({ auditThreads: 1 }, './loaded-worker.mjs');
  const task = taskOf(new Uint8Array(1));
  const outcome = await pool.run(task, new AbortController().signal);
  await pool.close();
  expect('body' in outcome && Buffer.from(outcome.body).toString()).toBe('import');
});
