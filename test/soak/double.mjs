// @ts-check
import { openSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';

/** `double.mjs FAULT`: the service with one fault of those that a soak has to notice. */
const [fault = ''] = process.argv.slice(2);
const dist = (/** @type {string} */ name) => import(new URL(`../../dist/${name}`, import.meta.url).href);
/** @type {typeof import('../../src/http/app.js')} */
const { buildApp } = await dist('http/app.js');
/** @type {typeof import('../../src/http/pool.js')} */
const { AuditPool } = await dist('http/pool.js');
/** @type {typeof import('../../src/limits.js')} */
const { DEFAULT_LIMITS } = await dist('limits.js');

const pool = new AuditPool({
  workerFile: new URL('../../dist/http/worker.js', import.meta.url),
  limits: DEFAULT_LIMITS,
  onFault: console.error,
});
/** So many files, or MiB, of each audit. */
const KEPT = 10;
/** @type {unknown[]} */
const kept = [];
let count = 0;

/** What goes wrong with an audit, by fault. @type {Record<string, (outcome: object) => object | Promise<object>>} */
const FAULTS = {
  'other bytes': (outcome) => ('body' in outcome ? { ...outcome, body: `${outcome.body} ` } : outcome),
  'other problem': (outcome) => ('problem' in outcome ? { body: '{}', ruleFailures: [] } : outcome),
  'no answer': () => new Promise(() => {}),
  'own fault': () => Promise.reject(new Error('a fault of our own')),
  'memory kept': (outcome) => {
    kept.push(Buffer.alloc(KEPT * 1024 * 1024, 1));
    return outcome;
  },
  'files kept open': (outcome) => {
    for (let i = 0; i < KEPT; i++) kept.push(openSync('/dev/null', 'r'));
    return outcome;
  },
  'files left': (outcome) => {
    writeFileSync(join(tmpdir(), `left-${count}`), '');
    return outcome;
  },
  'loop blocked': (outcome) => {
    for (const end = Date.now() + 400; Date.now() < end; );
    return outcome;
  },
};

const app = await buildApp({
  logger: pino(pino.destination(2)),
  audits: {
    isReady: () => pool.isReady(),
    isFull: () => pool.isFull(),
    load: () => pool.load(),
    run: async (task, signal) => {
      const outcome = await pool.run(task, signal);
      count++;
      return /** @type {typeof outcome} */ (await (FAULTS[fault]?.(outcome) ?? outcome));
    },
    close: () => pool.close(),
  },
});
await app.listen({ host: '127.0.0.1', port: 0 });
process.once('SIGTERM', () => {
  if (fault !== 'deaf') app.close();
});
