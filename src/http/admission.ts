import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Limits } from '../limits.js';
import { type AuditRunner, lineIsFull } from './pool.js';
import { RequestError } from './problems.js';

/** What an upload holds of the room that there is for all of them. */
export interface Room {
  /**
   * Holds so many bytes in all.
   * @throws RequestError `busy` where there is no room for them
   */
  hold(bytes: number): void;
}

const rooms = new WeakMap<FastifyRequest, Room>();

/** The room of a request that was let in. */
export function roomOf(request: FastifyRequest): Room {
  const room = rooms.get(request);
  if (room === undefined) throw new Error('an upload is read that was not let in');
  return room;
}

/** Room is taken in steps as the bytes come, or who only announces many would keep all others out. */
const STEP_BYTES = 1024 * 1024;

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
    if (uploads >= limits.uploadsHeld) throw noRoom();
    let held = 0;
    const most = Math.min(announcedBytes(request) ?? Number.POSITIVE_INFINITY, limits.uploadBytes);
    const room = {
      hold(needed: number): void {
        if (needed <= held) return;
        const wanted = Math.min(Math.max(needed, held + STEP_BYTES), most);
        if (bytes - held + wanted > limits.uploadBytesHeld) throw noRoom();
        bytes += wanted - held;
        held = wanted;
      },
    };
    room.hold(1);
    rooms.set(request, room);
    uploads++;
    reply.raw.once('close', () => {
      uploads--;
      bytes -= held;
    });
  };
}

/** By the header alone: undefined for a body that comes in chunks. */
export function announcedBytes({ headers }: FastifyRequest): number | undefined {
  const length = headers['content-length'];
  return length === undefined ? undefined : Number(length);
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
