import { Writable } from 'node:stream';
import { pino } from 'pino';

/** All that is logged, at every level. */
export class Log {
  text = '';
  readonly logger = pino(
    { level: 'trace' },
    new Writable({
      write: (chunk, _encoding, done) => {
        this.text += chunk;
        done();
      },
    }),
  );

  get entries(): Record<string, unknown>[] {
    return this.text
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line));
  }
}
