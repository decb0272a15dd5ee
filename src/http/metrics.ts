import type { FastifyInstance, FastifyReply } from 'fastify';
import type { Registry } from 'prom-client';
import { problemSent } from './answer.js';
import type { AuditRunner, Load } from './pool.js';

interface Meters {
  readonly registry: Registry;
  readonly count: (outcome: string, seconds: number) => void;
}

/** From what a small house takes to what a campus on a busy machine does. */
const DURATION_BUCKETS_S = [0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60];
const REPORT = 'report';

/** Measures the audits and serves the figures, for Prometheus. Labels hold problem codes, and nothing out of archives. */
export function addMetrics(app: FastifyInstance, audits: AuditRunner): void {
  let inFlight = 0;
  let meters: Promise<Meters> | undefined;
  // Loaded with the first figure, as it would hold up the start.
  const loaded = () => {
    meters ??= createMeters(() => ({ inFlight, ...audits.load() }));
    return meters;
  };
  app.addHook('onRequest', async ({ method, routeOptions }, reply) => {
    if (method !== 'POST' || routeOptions.config.form === undefined) return;
    const start = performance.now();
    inFlight += 1;
    // Comes also where the client has gone, unlike the framework's own hook.
    reply.raw.once('close', async () => {
      inFlight -= 1;
      (await loaded()).count(outcomeOf(reply), (performance.now() - start) / 1000);
    });
  });
  app.get('/metrics', async (_request, reply) => {
    const { registry } = await loaded();
    return reply.type(registry.contentType).send(await registry.metrics());
  });
}

function outcomeOf(reply: FastifyReply): string {
  if (!reply.raw.writableFinished) return 'aborted';
  const problem = problemSent(reply);
  return problem === undefined ? REPORT : problem.code;
}

async function createMeters(load: () => Load & { readonly inFlight: number }): Promise<Meters> {
  const { Counter, Gauge, Histogram, Registry } = await import('prom-client');
  const registry = new Registry();
  const registers = [registry];
  const audits = new Counter({
    name: 'linebudget_audits_total',
    help: 'Requests for an audit or a comparison, by how they ended: report, aborted, or the code of the problem.',
    labelNames: ['outcome'],
    registers,
  });
  const duration = new Histogram({
    name: 'linebudget_audit_duration_seconds',
    help: 'From the head of a request to the end of its answer, of the requests that ended with a report.',
    buckets: DURATION_BUCKETS_S,
    registers,
  });
  const gauge = (name: string, help: string, value: () => number) =>
    new Gauge({
      name,
      help,
      registers,
      collect() {
        this.set(value());
      },
    });
  gauge(
    'linebudget_audits_in_flight',
    'Requests for an audit or a comparison that are sent, wait or run.',
    () => load().inFlight,
  );
  gauge('linebudget_audits_waiting', 'Audits that wait for a thread; auditQueue may.', () => load().waiting);
  gauge('linebudget_audits_running', 'Audits that run; auditThreads may at once.', () => load().running);
  gauge('process_resident_memory_bytes', 'Memory of the process, worker threads included.', () =>
    process.memoryUsage.rss(),
  );
  return {
    registry,
    count(outcome, seconds) {
      audits.inc({ outcome });
      if (outcome === REPORT) duration.observe(seconds);
    },
  };
}
