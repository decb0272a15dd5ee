import { LANGUAGES, type Language, wordsOf } from '../../words/language.js';
import type { Words } from '../../words/words.js';
import type { Report } from '../report.js';
import { formatAnnotations } from './annotations.js';
import { formatCodeQuality } from './code-quality.js';
import type { FormatContext } from './context.js';
import { formatCsvFindings } from './csv-findings.js';
import { formatCsvSchedule } from './csv-schedule.js';
import { formatCsvSegments } from './csv-segments.js';
import { formatCsvSiteCheck } from './csv-site-check.js';
import { formatCsvUnknowns } from './csv-unknowns.js';
import { formatHtml, htmlPolicy } from './html.js';
import { formatJson } from './json.js';
import { formatJunit } from './junit.js';
import { formatMarkdown } from './markdown.js';
import { formatSarif } from './sarif.js';
import { formatText } from './text.js';
import { formatXlsxSchedule } from './xlsx-schedule.js';

/** A format of the report: a pure function, the name that the command line knows and the media type that HTTP knows. */
export interface Format {
  readonly mediaType: string;
  /** What to save it as; of a format that is bytes and no text. */
  readonly fileName?: string;
  /** Whether it is for people, who may ask for their language. */
  readonly isForPeople?: true;
  /** What a browser may let it do, of a format that is a page. */
  readonly pagePolicy?: () => Promise<string>;
  readonly format: (report: Report, context: FormatContext) => string | Promise<string | Uint8Array>;
}

export const FORMATS = {
  json: { mediaType: 'application/json', format: formatJson },
  text: { mediaType: 'text/plain', format: formatText, isForPeople: true },
  markdown: { mediaType: 'text/markdown', format: formatMarkdown, isForPeople: true },
  html: { mediaType: 'text/html', pagePolicy: htmlPolicy, format: formatHtml, isForPeople: true },
  sarif: { mediaType: 'application/sarif+json', format: formatSarif },
  junit: { mediaType: 'application/xml', format: formatJunit },
  'csv-segments': { mediaType: 'text/csv', format: formatCsvSegments },
  'csv-findings': { mediaType: 'text/csv', format: formatCsvFindings },
  'csv-unknowns': { mediaType: 'text/csv', format: formatCsvUnknowns },
  'csv-site-check': { mediaType: 'text/csv', format: formatCsvSiteCheck },
  'csv-schedule': { mediaType: 'text/csv', format: formatCsvSchedule },
  'xlsx-schedule': {
    mediaType: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
    fileName: 'supply-schedule.xlsx',
    format: formatXlsxSchedule,
  },
  'code-quality': { mediaType: 'application/vnd.linebudget.code-quality+json', format: formatCodeQuality },
  annotations: { mediaType: 'text/vnd.linebudget.annotations', format: formatAnnotations },
} as const satisfies Record<string, Format>;

export type FormatName = keyof typeof FORMATS;

export const FORMAT_NAMES = Object.keys(FORMATS) as FormatName[];

/** Whether people may ask for the language of a format; what programs read is in English always. */
export function isForPeople(name: FormatName): boolean {
  const { isForPeople }: Format = FORMATS[name];
  return isForPeople === true;
}

/** The texts that a format is to be made with where people ask for a language. */
export async function wordsFor(format: FormatName, language: Language): Promise<Words> {
  return wordsOf(isForPeople(format) ? language : LANGUAGES[0]);
}
