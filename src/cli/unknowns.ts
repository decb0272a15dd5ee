import { parseArgs } from 'node:util';
import type { Limits } from '../limits.js';
import { formatCsvUnknowns, placesText } from '../report/format/csv-unknowns.js';
import { table } from '../report/format/layout.js';
import type { Report, ReportUnknown } from '../report/report.js';
import { mergedUnknowns } from '../report/unknowns.js';
import { count, milliamps } from '../rules/words.js';
import { auditArchiveFile, problemLine } from './archive-file.js';
import { type ExitCode, worst } from './exit-code.js';
import { type GivenValues, givenBy, JUDGING_OPTIONS } from './given-files.js';
import { archiveLimits } from './limit-option.js';
import { writeOutput } from './output.js';
import { oneOf, UNKNOWNS_FORMATS, UsageError } from './usage.js';

interface Settings {
  readonly files: readonly string[];
  readonly format: (typeof UNKNOWNS_FORMATS)[number];
  readonly out: string | undefined;
  readonly limits: Limits;
  readonly given: GivenValues;
}

/** `linebudget unknowns FILE…`: one list of the data sheets to look up, over all the archives. */
export async function unknownsCommand(args: readonly string[]): Promise<ExitCode> {
  const { files, format, out, limits, given } = parse(args);
  const options = { ...(await givenBy(given)), limits };
  const lists: ReportUnknown[][] = [];
  const exits: ExitCode[] = [];
  for (const file of files) {
    const { outcome, exit } = await auditArchiveFile(file, options);
    exits.push(exit);
    console.error(`${file}: ${'problem' in outcome ? problemLine(outcome) : summaryOf(outcome)}`);
    if ('problem' in outcome) continue;
    lists.push(files.length === 1 ? outcome.unknowns : outcome.unknowns.map((unknown) => placedIn(file, unknown)));
  }
  await writeOutput(lists.length === 0 ? '' : render(mergedUnknowns(lists.flat()), format), out);
  return worst(exits);
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      ...JUDGING_OPTIONS,
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  if (positionals.length === 0) throw new UsageError('name at least one project archive');
  return {
    files: positionals,
    format: oneOf('format', values.format, UNKNOWNS_FORMATS),
    out: values.out,
    limits: archiveLimits(values.limit),
    given: values,
  };
}

function summaryOf({ unknowns, summary }: Report): string {
  const incomplete = summary.complete ? '' : '; INCOMPLETE, a rule failed';
  return `${count(unknowns.length, 'data sheet')} to look up${incomplete}`;
}

/** Lines are called alike in many archives. */
function placedIn(file: string, unknown: ReportUnknown): ReportUnknown {
  const places = unknown.places.map((place) => ({ ...place, segment: `${file}: ${place.segment}` }));
  return { ...unknown, places };
}

function render(unknowns: ReportUnknown[], format: Settings['format']): string {
  switch (format) {
    case 'csv':
      return formatCsvUnknowns({ unknowns });
    case 'json':
      return `${JSON.stringify(unknowns, null, 2)}\n`;
    case 'text':
      return textOf(unknowns);
  }
}

const HEADER = ['Order number', 'Product', 'Manufacturer', 'Wanted', 'Charged', 'Turns at', 'Because', 'Places'];

function textOf(unknowns: readonly ReportUnknown[]): string {
  if (unknowns.length === 0) return 'No data sheet has to be looked up.\n';
  const rows = unknowns.map((one) => [
    one.orderNumber ?? '',
    one.product ?? one.productId,
    one.manufacturer ?? '',
    one.wanted,
    one.chargedMa === null ? '' : milliamps(one.chargedMa),
    one.turnsAtMa === null ? '' : milliamps(one.turnsAtMa),
    one.because,
    placesText(one.places),
  ]);
  return `${table([HEADER, ...rows], ['left', 'left', 'left', 'left', 'right', 'right', 'left', 'left'])}\n`;
}
