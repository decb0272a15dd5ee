import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import { RequestError } from './problems.js';
import type { AuditOutcome, AuditTask } from './worker.js';

/** Runs audits elsewhere than on the event loop. */
export interface AuditRunner {
  run(task: AuditTask): Promise<AuditOutcome>;
  /** Lets running audits finish, then ends the threads. */
  close(): Promise<void>;
}

export interface PoolOptions {
  readonly workerFile: URL;
  readonly threads?: number;
  /** Audits that may wait for a thread; more are refused. */
  readonly queue?: number;
}

const DEFAULT_QUEUE = 16;
/** What the pool says when it takes no more: with a queue, and without one. */
const FULL = ['Task queue is at limit', 'No task queue available and all Workers are busy'];

/** A pool of worker threads with a bounded queue. */
export function createPool(options: PoolOptions): AuditRunner {
  const { workerFile, threads = availableParallelism(), queue = DEFAULT_QUEUE } = options;
  const pool = new Piscina<AuditTask, AuditOutcome>({
    filename: workerFile.href,
    minThreads: 1,
    maxThreads: threads,
    maxQueue: queue,
    idleTimeout: 30_000,
  });
  return {
    async run(task) {
      try {
        return await pool.run(task, { transferList: [task.file.buffer as ArrayBuffer] });
      } catch (cause) {
        if (cause instanceof Error && FULL.includes(cause.message)) {
          throw new RequestError('busy', `${queue} audits are waiting already; try again in a few seconds`);
        }
        throw cause;
      }
    },
    close: () => pool.close(),
  };
}
