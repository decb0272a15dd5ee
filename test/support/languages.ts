/** Words that are English and no German: where one stands in a German text, that was not translated. */
const ENGLISH = [
  ...['the', 'of', 'and', 'is', 'are', 'with', 'for', 'not', 'no', 'at', 'to', 'by', 'which', 'that', 'it', 'its'],
  ...['from', 'more', 'most', 'least', 'each', 'than', 'but', 'where', 'what', 'whether', 'there', 'this', 'as', 'or'],
  ...['supply', 'supplies', 'load', 'device', 'devices', 'rating', 'current', 'cable', 'voltage', 'line', 'lines'],
  ...['error', 'warning', 'note', 'finding', 'findings', 'skipped', 'passed', 'archive', 'policy', 'sheet', 'battery'],
  ...['standard', 'volume', 'common practice', 'derived', 'memory', 'handbook', 'beside', 'within', 'beyond'],
];

const PATTERN = new RegExp(`(?<![\\p{L}\\p{N}_-])(?:${ENGLISH.join('|')})(?![\\p{L}\\p{N}_-])`, 'giu');

/** Keys and commands that are typed as they stand, whatever the language. */
export const TYPED =
  /\[[\w-]+\]|`[^`]*`|\b(?:common-practice|linebudget (?:diagnose|unknowns)|fedBy)\b|\((?:lines|archive|\w+[A-Z]\w*)\)/g;

/** The English words of a text that ought to be German. */
export function englishWordsIn(text: string): string[] {
  return text.match(PATTERN) ?? [];
}

/** A text without some names, whichever way it is broken into lines. */
export function withoutNames(text: string, names: Iterable<string | null>): string {
  const longestFirst = [...new Set(names)].filter((name) => name !== null && name !== '') as string[];
  longestFirst.sort((a, b) => b.length - a.length);
  return longestFirst.reduce(
    (left, name) => left.replaceAll(name.replace(/\s+/g, ' '), ' '),
    text.replace(/\s+/g, ' '),
  );
}

/** Figures with a unit of measure, as numbers, in order of size. */
export function figuresIn(text: string, mark: '.' | ','): number[] {
  const pattern =
    mark === '.'
      ? /(−?\d+(?:\.\d+)?) (?:mA|V|m|Ah|h|%)(?![\p{L}])/gu
      : /(−?\d+(?:,\d+)?) (?:mA|V|m|Ah|h|%)(?![\p{L}])/gu;
  return [...text.matchAll(pattern)]
    .map(([, figure]) => Number(figure?.replace(',', '.').replace('−', '-')))
    .sort((a, b) => a - b);
}
