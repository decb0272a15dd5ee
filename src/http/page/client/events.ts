/** An event of a stream of server-sent events. */
export interface StreamEvent {
  readonly type: string;
  readonly data: string;
}

/**
 * Reads server-sent events as they come (WHATWG HTML, "Server-sent events"). Lines end in LF or CRLF, as services write
 * them; a line that is not whole yet waits for its rest.
 */
export class EventReader {
  #pieces: string[] = [];
  #type = '';
  #data: string[] = [];

  /** The events that are whole with this piece of the stream. */
  read(piece: string): StreamEvent[] {
    const lines = piece.split('\n');
    const last = lines.pop() ?? '';
    const events: StreamEvent[] = [];
    for (const line of lines) {
      const event = this.#take([...this.#pieces.splice(0), line].join('').replace(/\r$/, ''));
      if (event !== undefined) events.push(event);
    }
    this.#pieces.push(last);
    return events;
  }

  #take(line: string): StreamEvent | undefined {
    if (line !== '') {
      const [, name = '', value = ''] = /^([^:]*)(?:: ?(.*))?$/s.exec(line) ?? [];
      if (name === 'event') this.#type = value;
      if (name === 'data') this.#data.push(value);
      return undefined;
    }
    const data = this.#data.splice(0);
    const type = this.#type === '' ? 'message' : this.#type;
    this.#type = '';
    return data.length === 0 ? undefined : { type, data: data.join('\n') };
  }
}
