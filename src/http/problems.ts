import { INPUT_FAULTS, type InputError, type InputPlace } from '../errors.js';

/** What can be wrong with a request, beside what {@link INPUT_FAULTS} says of the archive in it. */
export const REQUEST_FAULTS = {
  'malformed-request': { status: 400, title: 'The request is malformed' },
  'token-missing': { status: 401, title: 'The request carries no token' },
  'token-not-valid': { status: 401, title: 'The token is not valid' },
  'role-missing': { status: 403, title: 'The token does not open this' },
  'not-found': { status: 404, title: 'There is nothing at this address' },
  'rule-not-known': { status: 404, title: 'There is no such rule' },
  'schema-not-known': { status: 404, title: 'There is no such schema' },
  'method-not-allowed': { status: 405, title: 'There is no such method at this address' },
  'not-acceptable': { status: 406, title: 'The report does not come in the form that is asked for' },
  'request-timeout': { status: 408, title: 'The request did not arrive in time' },
  'audit-too-long': { status: 413, title: 'The audit takes longer than this service allows' },
  'audit-too-large': { status: 413, title: 'The audit takes more memory than this service allows' },
  'unsupported-media-type': { status: 415, title: 'The body is of a kind that is not read here' },
  'expectation-failed': { status: 417, title: 'The request expects what this service does not do' },
  'too-many-requests': { status: 429, title: 'The client asks too often' },
  'headers-too-large': { status: 431, title: 'The headers of the request are too large' },
  busy: { status: 503, title: 'Too many audits are waiting' },
  starting: { status: 503, title: 'The service is starting' },
  stopping: { status: 503, title: 'The service is stopping' },
  'internal-fault': { status: 500, title: 'The service failed by a fault of its own' },
} as const;

export type RequestFault = keyof typeof REQUEST_FAULTS;

export const PROBLEM_MEDIA_TYPE = 'application/problem+json';

/** A problem document (RFC 9457). */
export interface Problem extends InputPlace {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
}

/** Thrown by handlers; the error handler turns it into a problem document. */
export class RequestError extends Error {
  override readonly name = 'RequestError';

  constructor(
    readonly code: RequestFault,
    readonly detail: string,
    /** Headers that the answer needs beside its document. */
    readonly headers: Readonly<Record<string, string>> = {},
  ) {
    super(detail);
  }
}

export function requestProblem(code: RequestFault, detail: string): Problem {
  return { type: typeOf(code), ...REQUEST_FAULTS[code], detail };
}

export function inputProblem({ code, message, place }: InputError): Problem {
  return { type: typeOf(code), ...INPUT_FAULTS[code], detail: message, ...place };
}

const TYPE_PREFIX = 'urn:linebudget:problem:';

function typeOf(code: string): string {
  return TYPE_PREFIX + code;
}

export function codeOf({ type }: Problem): string {
  return type.slice(TYPE_PREFIX.length);
}
