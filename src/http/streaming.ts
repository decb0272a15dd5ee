import { PassThrough } from 'node:stream';
import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Limits } from '../limits.js';
import { ALL_DONE, NOTHING_DONE, type OnProgress } from '../progress.js';
import { noteProblem } from './answer.js';
import { languageAsked } from './asked.js';
import { COMMENT, EVENT_STREAM, eventOf } from './events.js';
import { documentOf, type Problem } from './problems.js';
import { boundAnswer } from './timing.js';
import type { AuditDone, AuditOutcome } from './worker.js';

/** Some proxies cut a line that is silent; WHATWG HTML, 9.2.7, advises a comment "every 15 seconds or so". */
const SILENT_MS = 10_000;

/** An audit whose progress is told. */
export interface Streamed {
  /** Runs it; rejects with the signal's reason where that is aborted. */
  readonly run: (onProgress: OnProgress) => Promise<AuditOutcome>;
  /** Told of a report that was made. */
  readonly onDone: (done: AuditDone) => void;
  /** What a request is told of an error. */
  readonly problemOf: (error: unknown, request: FastifyRequest) => Problem;
  readonly limits: Limits;
}

/**
 * Answers with events: progress, and at the end the report or a problem. The line is never silent for long, and the time
 * that an answer may take counts from its last event, as an audit takes as long as it does.
 */
export function answerInEvents(request: FastifyRequest, reply: FastifyReply, streamed: Streamed): FastifyReply {
  const stream = new PassThrough();
  const send = (piece: string | Uint8Array) => {
    if (stream.destroyed) return; // the client is gone
    silence.refresh();
    stream.write(piece);
  };
  const silence = setInterval(() => send(COMMENT), SILENT_MS);
  send(eventOf('progress', NOTHING_DONE));
  ended(request, reply, streamed, send).finally(() => {
    boundAnswer(reply.raw, streamed.limits);
    clearInterval(silence);
    stream.end();
  });
  reply.header('x-accel-buffering', 'no'); // common practice: some proxies gather an answer before they pass it on
  return reply.type(`${EVENT_STREAM}; charset=utf-8`).send(stream);
}

/** Runs the audit, and sends all events but the first. */
async function ended(
  request: FastifyRequest,
  reply: FastifyReply,
  { run, onDone, problemOf }: Streamed,
  send: (event: string | Uint8Array) => void,
): Promise<void> {
  const refuse = (problem: Problem) => {
    noteProblem(reply, problem);
    request.log.info({ problem: problem.code, status: problem.status }, 'a stream ends with a problem');
    send(eventOf('problem', documentOf(problem, languageAsked(request))));
  };
  try {
    const outcome = await run((progress) => send(eventOf('progress', progress)));
    if ('problem' in outcome) return refuse(outcome.problem);
    onDone(outcome);
    send(eventOf('progress', ALL_DONE));
    send(outcome.body);
  } catch (error) {
    const problem = problemOf(error, request);
    if (!reply.raw.destroyed) refuse(problem); // else the client is gone, which ended the audit
  }
}
