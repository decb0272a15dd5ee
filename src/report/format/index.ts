import type { Report } from '../report.js';
import { formatCsvFindings } from './csv-findings.js';
import { formatCsvSegments } from './csv-segments.js';
import { formatCsvUnknowns } from './csv-unknowns.js';
import { formatJson } from './json.js';
import { formatJunit } from './junit.js';
import { formatText } from './text.js';

/** What a format is told beside the report, which knows no file names. */
export interface FormatContext {
  /** What the archive is called where the output is read, such as its path in a repository. */
  readonly archive: string;
}

/** A format of the report: a pure function, the name that the command line knows and the media type that HTTP knows. */
export interface Format {
  readonly mediaType: string;
  readonly format: (report: Report, context: FormatContext) => string;
}

const ALL = {
  json: { mediaType: 'application/json', format: formatJson },
  text: { mediaType: 'text/plain', format: formatText },
  junit: { mediaType: 'application/xml', format: formatJunit },
  'csv-segments': { mediaType: 'text/csv', format: formatCsvSegments },
  'csv-findings': { mediaType: 'text/csv', format: formatCsvFindings },
  'csv-unknowns': { mediaType: 'text/csv', format: formatCsvUnknowns },
} satisfies Record<string, Format>;

export type FormatName = keyof typeof ALL;

export const FORMATS: Readonly<Record<FormatName, Format>> = ALL;

export const FORMAT_NAMES = Object.keys(ALL) as FormatName[];
