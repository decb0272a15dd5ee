import { EventReader, type StreamEvent } from './events.js';
import type { Found } from './words.js';

/** A problem as the service tells it. */
export interface Problem {
  readonly type: string;
  readonly title: string;
  readonly detail: string;
  readonly remedy: string;
  readonly part?: string;
  readonly line?: number;
}

/** A report as the service sends it at the end of its events. */
export interface SentReport {
  readonly mediaType: string;
  readonly summary: string;
  readonly body: string;
}

export type Outcome =
  | { readonly is: 'report'; readonly report: SentReport }
  | { readonly is: 'problem'; readonly problem: Problem; readonly requestId: string | null }
  | { readonly is: 'found'; readonly found: Found };

/** What is sent, and to where. */
export interface Sending {
  readonly address: string;
  readonly form: FormData;
  readonly headers: Readonly<Record<string, string>>;
}

/** Told how far it is: the stage by its name, and the share of all that is to be done, from 0 to 1. */
export type OnProgress = (stage: string, share: number) => void;

/** How much of the bar is for sending the files. */
const SENDING_SHARE = 0.3;

/** The end of an exchange, and how to end it before. */
export interface Exchange {
  readonly outcome: Promise<Outcome>;
  readonly stop: () => void;
}

/** Sends files and follows the events of the audit. A request of the older kind, as `fetch` does not tell what is sent. */
export function exchange({ address, form, headers }: Sending, onProgress: OnProgress): Exchange {
  const request = new XMLHttpRequest();
  const { promise, end } = ending();
  const follow = follower(request, onProgress, end);
  request.upload.addEventListener('progress', ({ loaded, total }) => {
    onProgress('uploading', (SENDING_SHARE * loaded) / Math.max(1, total));
  });
  request.addEventListener('progress', follow);
  request.addEventListener('load', () => {
    follow();
    end(request.status === 200 ? { is: 'found', found: 'cut' } : problemOf(request, request.responseText));
  });
  let hasBegun = false; // a request that fails has no status any more
  request.addEventListener('readystatechange', () => {
    hasBegun ||= request.status !== 0;
  });
  request.addEventListener('error', () => end({ is: 'found', found: hasBegun ? 'cut' : 'unreachable' }));
  request.addEventListener('abort', () => end({ is: 'found', found: 'stopped' }));
  request.open('POST', address);
  for (const [name, value] of Object.entries({ accept: 'text/event-stream', ...headers })) {
    request.setRequestHeader(name, value);
  }
  request.send(form);
  return { outcome: promise, stop: () => request.abort() };
}

/** The first outcome counts: an answer that ends has ended with it. */
function ending(): { promise: Promise<Outcome>; end: (outcome: Outcome) => void } {
  let end: (outcome: Outcome) => void = () => {};
  const promise = new Promise<Outcome>((resolve) => {
    end = resolve;
  });
  return { promise, end };
}

/** Takes what has come since it was called last. */
function follower(request: XMLHttpRequest, onProgress: OnProgress, end: (outcome: Outcome) => void): () => void {
  const reader = new EventReader();
  let taken = 0;
  return () => {
    if (request.status !== 200) return;
    const piece = request.responseText.slice(taken);
    taken += piece.length;
    for (const event of reader.read(piece)) take(event);
  };

  function take({ type, data }: StreamEvent): void {
    if (type === 'progress') {
      const { stage, share } = JSON.parse(data) as { stage: string; share: number };
      onProgress(stage, SENDING_SHARE + (1 - SENDING_SHARE) * share);
    }
    if (type === 'report') end({ is: 'report', report: JSON.parse(data) as SentReport });
    if (type === 'problem') end(problemOf(request, data));
  }
}

/** What stands between here and the service may answer with something else. */
function problemOf(request: XMLHttpRequest, text: string): Outcome {
  const problem = problemIn(text);
  if (problem === null) return { is: 'found', found: 'unreachable' };
  return { is: 'problem', problem, requestId: request.getResponseHeader('request-id') };
}

/** Null where it is no problem document. */
export function problemIn(text: string): Problem | null {
  try {
    const problem = JSON.parse(text) as Problem;
    return typeof problem.title === 'string' && typeof problem.remedy === 'string' ? problem : null;
  } catch {
    return null;
  }
}
