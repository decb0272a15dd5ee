import type { Report } from '../report.js';
import { formatAnnotations } from './annotations.js';
import { formatCodeQuality } from './code-quality.js';
import type { FormatContext } from './context.js';
import { formatJson } from './json.js';
import { formatText } from './text.js';

/** A format of the report: a pure function, the name that the command line knows and the media type that HTTP knows. */
export interface Format {
  readonly mediaType: string;
  readonly format: (report: Report, context: FormatContext) => string;
}

const ALL = {
  json: { mediaType: 'application/json', format: formatJson },
  text: { mediaType: 'text/plain', format: formatText },
  'code-quality': { mediaType: 'application/vnd.linebudget.code-quality+json', format: formatCodeQuality },
  annotations: { mediaType: 'text/vnd.linebudget.annotations', format: formatAnnotations },
} satisfies Record<string, Format>;

export type FormatName = keyof typeof ALL;

export const FORMATS: Readonly<Record<FormatName, Format>> = ALL;

export const FORMAT_NAMES = Object.keys(ALL) as FormatName[];
