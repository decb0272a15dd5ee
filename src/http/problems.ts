import { INPUT_FAULTS, type InputError, type InputFault, type InputPlace } from '../errors.js';
import { problems as german } from '../words/de/problems.js';
import { problems as english } from '../words/en/problems.js';
import type { Language } from '../words/language.js';

/** What can be wrong with a request, beside what {@link INPUT_FAULTS} says of the archive in it. */
export const REQUEST_FAULTS = {
  'malformed-request': { status: 400 },
  'token-missing': { status: 401 },
  'token-not-valid': { status: 401 },
  'role-missing': { status: 403 },
  'not-found': { status: 404 },
  'rule-not-known': { status: 404 },
  'schema-not-known': { status: 404 },
  'method-not-allowed': { status: 405 },
  'not-acceptable': { status: 406 },
  'request-timeout': { status: 408 },
  'audit-too-long': { status: 413 },
  'audit-too-large': { status: 413 },
  'unsupported-media-type': { status: 415 },
  'expectation-failed': { status: 417 },
  'too-many-requests': { status: 429 },
  'headers-too-large': { status: 431 },
  busy: { status: 503 },
  starting: { status: 503 },
  stopping: { status: 503 },
  'internal-fault': { status: 500 },
} as const;

export type RequestFault = keyof typeof REQUEST_FAULTS;

export const PROBLEM_MEDIA_TYPE = 'application/problem+json';

/** What went wrong, until somebody is told of it. */
export interface Problem extends InputPlace {
  readonly code: RequestFault | InputFault;
  readonly status: number;
  readonly detail: string;
}

/** A problem document (RFC 9457), with what to do about it as a member of its own. */
export interface ProblemDocument extends InputPlace {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly remedy: string;
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
  return { code, ...REQUEST_FAULTS[code], detail };
}

export function inputProblem({ code, message, place }: InputError): Problem {
  return { code, ...INPUT_FAULTS[code], detail: message, ...place };
}

/** What a problem means and what to do about it; both languages at once, as no answer to a problem may wait for a file. */
const TEXTS: { readonly [language in Language]: Readonly<Record<Problem['code'], { title: string; remedy: string }>> } =
  {
    en: english,
    de: german,
  };

/** The document of a problem. Its detail comes from where the problem was found, in English whatever the language. */
export function documentOf({ code, status, detail, ...place }: Problem, language: Language): ProblemDocument {
  const { title, remedy } = TEXTS[language][code];
  return { type: `urn:linebudget:problem:${code}`, title, status, detail, remedy, ...place };
}
