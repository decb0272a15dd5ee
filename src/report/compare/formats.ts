import type { Comparison } from './comparison.js';
import { formatComparisonText } from './text.js';

/** A format of the comparison: a pure function, the name that the command line knows and the media type of HTTP. */
interface ComparisonFormat {
  readonly mediaType: string;
  readonly format: (comparison: Comparison) => string;
}

const ALL = {
  json: { mediaType: 'application/json', format: formatComparisonJson },
  text: { mediaType: 'text/plain', format: formatComparisonText },
} satisfies Record<string, ComparisonFormat>;

export type ComparisonFormatName = keyof typeof ALL;

export const COMPARISON_FORMATS: Readonly<Record<ComparisonFormatName, ComparisonFormat>> = ALL;

export const COMPARISON_FORMAT_NAMES = Object.keys(ALL) as ComparisonFormatName[];

/** The comparison as it is. */
function formatComparisonJson(comparison: Comparison): string {
  return `${JSON.stringify(comparison, null, 2)}\n`;
}
