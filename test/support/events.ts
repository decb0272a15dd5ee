import { createParser, type EventSourceMessage } from 'eventsource-parser';

/** A stream of server-sent events, read to its end by a parser of somebody else's. */
export interface EventsRead {
  readonly events: readonly { readonly name: string | undefined; readonly data: Record<string, unknown> }[];
  readonly comments: number;
}

/** Reads a stream as it comes; throws at what is no event, and at what is left over at its end. */
export class EventsReader {
  readonly events: EventsRead['events'][number][] = [];
  comments = 0;
  readonly #text = new TextDecoder('utf-8', { fatal: true });
  readonly #parser = createParser({
    onEvent: ({ event, data, id }: EventSourceMessage) => {
      if (id !== undefined) throw new Error(`an event has the id ${id}`);
      this.events.push({ name: event, data: JSON.parse(data) });
    },
    onComment: () => {
      this.comments++;
    },
    onError: (error) => {
      throw error;
    },
  });

  feed(piece: Uint8Array): void {
    this.#parser.feed(this.#text.decode(piece, { stream: true }));
  }

  end(): EventsRead {
    this.#parser.feed(this.#text.decode());
    this.#parser.reset({ consume: true });
    return this;
  }
}

export async function eventsOf(answer: Response): Promise<EventsRead> {
  const reader = new EventsReader();
  for await (const piece of answer.body ?? []) reader.feed(piece);
  return reader.end();
}
