import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { FIXTURES } from './archives.js';

/**
 * The notes beside the fixtures: tables of figures that were worked out by hand. They are the expectation that reports
 * are held against, so nothing is taken from a report here.
 */
type Row = Readonly<Record<string, string>>;

/** What a note says of a segment. */
export interface NotedSegment {
  /** area.line */
  readonly line: string;
  /** Number of the segment, where the line has several. */
  readonly number: number | undefined;
  readonly name: string;
  readonly loadMa: number | null;
  /** The rating of each supply, null for one that is not declared. */
  readonly ratingsMa: readonly (number | null)[];
  readonly isInadmissible: boolean;
  readonly targetMa: number | null;
  readonly classSumMa: number | null;
  readonly verdict: string;
  /** Findings per rule. */
  readonly rules: Readonly<Record<string, number>>;
}

/** How a note adds a load up, µA. */
export interface NotedSum {
  readonly line: string;
  readonly number: number | undefined;
  readonly own: Terms;
  readonly reaching: Terms;
  readonly loadUa: number;
}

export interface Terms {
  readonly items: number;
  readonly ua: number;
  readonly assumedItems: number;
  readonly assumedUa: number;
}

const NONE = '–';

export function notedSegments(fixture: string): NotedSegment[] {
  return table(note(fixture), 'Figures').map((row) => ({
    ...placeOf(row),
    name: cell(row, 'name'),
    loadMa: figure(cell(row, 'load mA')),
    ratingsMa: ratings(cell(row, 'rating mA')),
    isInadmissible: cell(row, 'rating mA').includes('inadmissible'),
    targetMa: figure(cell(row, '80 % mA')),
    classSumMa: figure(cell(row, 'class sum mA')),
    verdict: cell(row, 'verdict'),
    rules: rulesIn(cell(row, 'rules')),
  }));
}

export function notedSums(fixture: string): NotedSum[] {
  return table(note(fixture), 'How each load adds up').map((row) => ({
    ...placeOf(row),
    own: terms(cell(row, 'standing on it')),
    reaching: terms(cell(row, 'reaching it from elsewhere')),
    loadUa: Math.round(Number(cell(row, 'load mA')) * 1000),
  }));
}

export function notedBreakEvens(fixture: string) {
  const result = (text: string) => Number(/= ([\d.]+)/.exec(text)?.[1]);
  return table(note(fixture), 'Break-even').map((row) => ({
    ...placeOf(row),
    assumed: Number(cell(row, 'assumed')),
    knownMa: Number(cell(row, 'known mA')),
    toTightMa: result(cell(row, 'to tight, mA each')),
    toInsufficientMa: result(cell(row, 'to insufficient, mA each')),
  }));
}

/** Rules that a note finds on no segment, but on the installation. */
export function notedAtLarge(fixture: string): string[] {
  const rows = table(note(fixture), 'Wrong on purpose').filter((row) => row.segment === NONE);
  return rows.flatMap((row) => Object.keys(rulesIn(cell(row, 'rule'))));
}

/** The list of fixtures: project, schema, counts. */
export function notedFixtures() {
  return table(readFileSync(join(FIXTURES, 'README.md'), 'utf8'), 'Fixtures').map((row) => {
    const [placed, unplaced = '0'] = cell(row, 'devices').match(/\d+/g) ?? [];
    return {
      fixture: cell(row, 'folder').replace(/[`/]/g, ''),
      project: cell(row, 'project'),
      schema: Number(cell(row, 'schema')),
      lines: Number(cell(row, 'lines')),
      placed: Number(placed),
      unplaced: Number(unplaced),
    };
  });
}

const note = (fixture: string) => readFileSync(join(FIXTURES, `${fixture}.md`), 'utf8');

/** The first table under a heading, empty if there is none. */
function table(text: string, heading: string): Row[] {
  const [, section = ''] = text.split(new RegExp(`^#+ ${heading}$`, 'm'));
  const [own = ''] = section.split(/^#+ /m);
  const [head, , ...rows] = own.split('\n').filter((line) => line.startsWith('|'));
  const cells = (line: string) =>
    line
      .split('|')
      .slice(1, -1)
      .map((text) => text.trim());
  const names = cells(head ?? '');
  return rows.map((row) => Object.fromEntries(cells(row).map((text, index) => [names[index] ?? '', text])));
}

function cell(row: Row, name: string): string {
  const text = row[name];
  if (text === undefined || text === '') throw new Error(`the note has no cell "${name}" in ${JSON.stringify(row)}`);
  return text;
}

function placeOf(row: Row): { line: string; number: number | undefined } {
  const [, line, number] = /^(\d+\.\d+)(?: \/ segment (\d+))?$/.exec(cell(row, 'segment')) ?? [];
  if (line === undefined) throw new Error(`no segment: ${row.segment}`);
  return { line, number: number === undefined ? undefined : Number(number) };
}

function figure(text: string): number | null {
  if (text === NONE) return null;
  if (!/^\d+(\.\d+)?$/.test(text)) throw new Error(`no figure: ${text}`);
  return Number(text);
}

/** `320`, `1280 (320 + 640 + 320)`, `160, feeds nothing`, `not declared`, `–`. */
function ratings(text: string): (number | null)[] {
  if (text === NONE) return [];
  if (text === 'not declared') return [null];
  const [total = '', ...units] = text.match(/\d+/g) ?? [];
  if (units.length === 0) return [Number(total)];
  if (units.reduce((sum, unit) => sum + Number(unit), 0) !== Number(total)) throw new Error(`does not add up: ${text}`);
  return units.map(Number);
}

/** `` `one-rule` ×3 `another-rule` `` */
function rulesIn(text: string): Record<string, number> {
  const found = [...text.matchAll(/`([a-z-]+)`(?: ×(\d+))?/g)];
  if (found.length === 0 && text !== NONE) throw new Error(`no rules: ${text}`);
  return Object.fromEntries(found.map(([, rule = '', times = '1']) => [rule, Number(times)]));
}

/** `6.5 + 2×11.5 + 10*`: items of a load, mA; a star marks assumed ones. Words before a comma name the item. */
function terms(text: string): Terms {
  const sum = { items: 0, ua: 0, assumedItems: 0, assumedUa: 0 };
  if (text === NONE) return sum;
  for (const term of text.replace(/^[a-z ]+, /, '').split(' + ')) {
    const [, times = '1', ma, star] = /^(?:(\d+)×)?(\d+(?:\.\d+)?)(\*)?$/.exec(term) ?? [];
    if (ma === undefined) throw new Error(`no term: ${term}`);
    const ua = Number(times) * Math.round(Number(ma) * 1000);
    sum.items += Number(times);
    sum.ua += ua;
    if (star === undefined) continue;
    sum.assumedItems += Number(times);
    sum.assumedUa += ua;
  }
  return sum;
}
