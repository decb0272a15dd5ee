import type { Words } from '../../words/words.js';

/** What a format is told beside the report, which knows no file names. */
export interface FormatContext {
  /** What the archive is called where the output is read, such as its path in a repository. */
  readonly archive: string;
  /** What formats for people are written in, as the report was made with; English unless set. */
  readonly words?: Words;
}
