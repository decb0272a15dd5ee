import { names } from '../names.js';
import { figures } from '../sentences.js';

/** Around the parts of the page: its head, the way to its parts, the filter, and the summary that comes first. */
export const frame = {
  title: (names: readonly string[]) => `Bus power of ${figures.list(names, 3)}`,
  noName: 'a project without a name',
  skip: 'To the content',
  contents: 'On this page',
  made: (f: { source: 'archive' | 'plan'; name: string; tool: string }) =>
    `Audit of the ${f.source === 'plan' ? 'plan' : 'archive'} ${f.name} by ${f.tool}`,
  /** Blanks for the pen: a report has no day of its own, so that the same archive gives the same report. */
  date: 'Date',
  checkedBy: 'Checked by',
  /** At the foot of each printed page. */
  sheet: (f: { title: string; source: 'archive' | 'plan'; sha256: string }) =>
    `${f.title}; ${f.source === 'plan' ? 'plan' : 'archive'} sha-256 ${f.sha256}`,
  waiversAsOf: (day: string) => `Waivers judged as of ${day}.`,
  notKnown: 'not known',
  yes: 'yes',
  no: 'no',
  /** What lies between two figures; a question mark stands for one that nobody knows. */
  range: (f: { low: string; high: string }) => `${f.low} to ${f.high}`,
};

const SEVERAL = { error: 'errors', warning: 'warnings', note: 'notes' } as const;

export const summary = {
  heading: 'In short',
  segments: 'Segments',
  findings: 'Findings',
  devices: 'Devices',
  currents: 'Currents',
  severity: (f: { severity: keyof typeof names.severities; findings: number }) =>
    f.findings === 1 ? names.severities[f.severity] : SEVERAL[f.severity],
  waived: 'waived',
  placed: 'on a line',
  unplaced: 'on no line',
};

/** Blanks in braces are filled in by the page’s script. */
export const filter = {
  heading: 'Show only',
  verdict: 'Verdict',
  severity: 'Severity',
  text: 'Text',
  all: 'all',
  shown: '{findings} of {allFindings} findings and {segments} of {allSegments} segments shown',
  sort: 'Sort by {column}',
};
