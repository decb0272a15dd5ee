import type { Progress } from '../progress.js';
import { sum } from '../units.js';
import type { ProblemDocument } from './problems.js';

/** The media type of WHATWG HTML, section 9.2 (server-sent events), where the framing is from too. */
export const EVENT_STREAM = 'text/event-stream';

/** A line that clients pass over. */
export const COMMENT = ':\n\n';

/** What there is of an event is one line of JSON, in which there are no line ends. */
export function eventOf(name: 'progress', data: Progress): string;
export function eventOf(name: 'problem', data: ProblemDocument): string;
export function eventOf(name: string, data: object): string {
  return `${start(name)}${JSON.stringify(data)}${END}`;
}

/** What an event says of a report, beside the report. */
export interface ReportHead {
  readonly format: string;
  readonly mediaType: string;
  readonly language: string;
  /** The report in a sentence. */
  readonly summary: string | null;
  readonly fileName?: string;
}

/** The report as the last event, as bytes: it may be long, and is made where the audit runs. */
export function reportEvent(head: ReportHead, report: string | Uint8Array): Uint8Array<ArrayBuffer> {
  const isText = typeof report === 'string';
  const opened = JSON.stringify({ ...head, encoding: isText ? 'utf-8' : 'base64' }).slice(0, -1);
  const body = isText ? report : Buffer.from(report).toString('base64');
  return joined([encoded(`${start('report')}${opened},"body":"`), ...escaped(body), encoded(`"}${END}`)]);
}

const start = (name: string) => `event: ${name}\ndata: `;
const END = '\n\n';

const encoded = (text: string) => new TextEncoder().encode(text);

const PIECE_LENGTH = 1024 * 1024;

/**
 * A text as it stands in JSON, piece by piece, as a long one in one go would take its length of the audit's heap once
 * more. Where a piece ends within a character, its halves are written as escapes, which are one character again to
 * whoever reads them.
 */
function* escaped(text: string): Generator<Uint8Array> {
  for (let at = 0; at < text.length; at += PIECE_LENGTH) {
    yield encoded(JSON.stringify(text.slice(at, at + PIECE_LENGTH)).slice(1, -1));
  }
}

/** In memory of its own, so that it can be handed to another thread. */
function joined(pieces: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const all = new Uint8Array(sum(pieces.map(({ length }) => length)));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}
