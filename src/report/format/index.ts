import type { Report } from '../report.js';
import { formatJson } from './json.js';
import { formatText } from './text.js';

/** A format of the report: a pure function, the name that the command line knows and the media type that HTTP knows. */
export interface Format {
  readonly mediaType: string;
  readonly format: (report: Report) => string;
}

export const FORMATS = {
  json: { mediaType: 'application/json', format: formatJson },
  text: { mediaType: 'text/plain', format: formatText },
} as const satisfies Record<string, Format>;

export type FormatName = keyof typeof FORMATS;

export const FORMAT_NAMES = Object.keys(FORMATS) as FormatName[];
