import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { COMMENT, eventOf, reportEvent } from '../../src/http/events.js';
import { documentOf, requestProblem } from '../../src/http/problems.js';
import { type EventsRead, EventsReader } from '../support/events.js';

/** The framing alone, read by the parser of another hand. */
function read(...pieces: readonly (string | Uint8Array)[]): EventsRead {
  const reader = new EventsReader();
  for (const piece of pieces) reader.feed(Buffer.from(piece));
  return reader.end();
}

const HEAD = { format: 'text', mediaType: 'text/plain; charset=utf-8', language: 'en', summary: 'All is well.' };

describe('an event', () => {
  it('of progress is its name and a line of JSON', () => {
    expect(eventOf('progress', { stage: 'reading', share: 0.42 })).toBe(
      'event: progress\ndata: {"stage":"reading","share":0.42}\n\n',
    );
  });

  it('of a problem stays one event, whatever line ends are in its texts', () => {
    const detail = 'a\nb\r\nc\rd\u2028e\n\nevent: report\ndata: {}\n\n';
    const problem = documentOf(requestProblem('busy', detail), 'en');
    expect(read(eventOf('problem', problem)).events).toEqual([{ name: 'problem', data: problem }]);
  });

  it('is not a comment', () => {
    const { events, comments } = read(COMMENT, eventOf('progress', { stage: 'waiting', share: 0 }), COMMENT);
    expect([events.length, comments]).toEqual([1, 2]);
  });
});

describe('the event of a report', () => {
  it('holds a text as it is', () => {
    const data = { ...HEAD, encoding: 'utf-8', body: 'a "b"\n\\ ü' };
    expect(read(reportEvent(HEAD, data.body)).events).toEqual([{ name: 'report', data }]);
  });

  it('holds bytes as base64, and what to save them as', () => {
    const head = { ...HEAD, fileName: 'a.bin' };
    const bytes = Uint8Array.from({ length: 256 }, (_, index) => index);
    const [event] = read(reportEvent(head, bytes)).events;
    expect(event).toEqual({
      name: 'report',
      data: { ...head, encoding: 'base64', body: Buffer.from(bytes).toString('base64') },
    });
  });

  it('holds any text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (body) => {
        expect(read(reportEvent(HEAD, body)).events[0]?.data.body).toBe(body);
      }),
    );
  });

  it.each([-1, 0, 1])('holds a character that stands %d before the end of a piece', (place) => {
    const body = `${'a'.repeat(1024 * 1024 - 1 + place)}😀${'"'.repeat(1024 * 1024)}`;
    expect(read(reportEvent(HEAD, body)).events[0]?.data.body === body).toBe(true);
  });

  it('has memory of its own, so that it can be handed to another thread', () => {
    const { buffer, byteLength } = reportEvent(HEAD, 'a');
    expect(buffer.byteLength).toBe(byteLength);
    expect(structuredClone(buffer, { transfer: [buffer] }).byteLength).toBe(byteLength);
  });
});
