import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Limits } from '../limits.js';
import { type AuditRunner, lineIsFull } from './pool.js';
import { RequestError } from './problems.js';
import { announcedBytes } from './upload.js';

/**
 * The hook that lets an upload in before its body is read, or refuses it. What is let in counts until its answer is
 * out or its client gone, so that uploads, audits and reports together stay bounded.
 */
export function admission(audits: AuditRunner, limits: Limits) {
  let uploads = 0;
  let bytes = 0;
  return async (request: FastifyRequest, reply: FastifyReply): Promise<void> => {
    if (reply.raw.destroyed) throw clientGone();
    if (audits.isFull()) throw lineIsFull();
    const announced = Math.min(announcedBytes(request) ?? Number.POSITIVE_INFINITY, limits.uploadBytes);
    if (uploads >= limits.uploadsHeld || bytes + announced > limits.uploadBytesHeld) throw noRoom();
    uploads++;
    bytes += announced;
    reply.raw.once('close', () => {
      uploads--;
      bytes -= announced;
    });
  };
}

function noRoom(): RequestError {
  return new RequestError(
    'busy',
    'as many uploads are held as may (the limits uploadsHeld and uploadBytesHeld); try again in a few seconds',
  );
}

/** Aborted when the client goes away before it has its answer. */
export function whileConnected({ raw }: FastifyReply): AbortSignal {
  const gone = new AbortController();
  const check = () => {
    if (!raw.writableFinished) gone.abort(clientGone());
  };
  if (raw.destroyed) check();
  else raw.once('close', check);
  return gone.signal;
}

/** Nobody reads it; it ends the request's work like any other refusal. */
function clientGone(): RequestError {
  return new RequestError('malformed-request', 'the client went away before its answer');
}
