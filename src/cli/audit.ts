import { parseArgs } from 'node:util';
import type { Limits } from '../limits.js';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../report/format/index.js';
import { formatText, summaryLine } from '../report/format/text.js';
import { type ArchiveOptions, type Audited, auditArchiveFile, problemLine } from './archive-file.js';
import { type ExitCode, exitCodeOf, FAIL_ON, type FailOn, worst } from './exit-code.js';
import { GIVEN_OPTIONS, type GivenValues, givenBy } from './given-files.js';
import { archiveLimits } from './limit-option.js';
import { refuseTerminal, writeOutput } from './output.js';
import { FORMATS_OF_SEVERAL, oneOf, UsageError } from './usage.js';

interface Settings {
  readonly files: readonly string[];
  readonly format: FormatName;
  readonly out: string | undefined;
  readonly failOn: FailOn;
  readonly limits: Limits;
  readonly given: GivenValues;
}

/** One archive of the call: its report, or why there is none. */
interface Result extends Audited {
  readonly file: string;
}

/** `linebudget audit FILE…`: reports to standard output or a file, a summary line per archive to standard error. */
export async function auditCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const options = { ...(await givenBy(settings.given)), limits: settings.limits };
  const results: Result[] = [];
  for (const file of settings.files) {
    const result = await auditFile(file, settings, options);
    console.error(`${file}: ${summaryOf(result)}`);
    results.push(result);
  }
  await writeOutput(await render(results, settings.format), settings.out);
  return worst(results.map(({ exit }) => exit));
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      'fail-on': { type: 'string', default: 'error' },
      ...GIVEN_OPTIONS,
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  if (positionals.length === 0) throw new UsageError('name at least one project archive');
  const format = oneOf('format', values.format, FORMAT_NAMES);
  if (positionals.length > 1 && !FORMATS_OF_SEVERAL.includes(format)) {
    throw new UsageError(`--format ${format} takes one archive; ${FORMATS_OF_SEVERAL.join(' and ')} take several`);
  }
  refuseTerminal(format, values.out);
  const failOn = oneOf('fail-on', values['fail-on'], FAIL_ON);
  if (failOn.startsWith('new') && values.baseline === undefined) {
    throw new UsageError(`--fail-on ${failOn} takes a --baseline to tell what is new`);
  }
  return {
    files: positionals,
    format,
    out: values.out,
    failOn,
    limits: archiveLimits(values.limit),
    given: values,
  };
}

async function auditFile(file: string, { failOn }: Settings, options: ArchiveOptions): Promise<Result> {
  const { outcome, exit } = await auditArchiveFile(file, options);
  return { file, outcome, exit: 'problem' in outcome ? exit : exitCodeOf(outcome, failOn) };
}

function summaryOf({ outcome }: Pick<Result, 'outcome'>): string {
  return 'problem' in outcome ? problemLine(outcome) : summaryLine(outcome);
}

/** One archive gives its report as it is; several give, in JSON, a list of file and report or problem. */
async function render(results: readonly Result[], format: FormatName): Promise<string | Uint8Array> {
  const [first] = results;
  if (first !== undefined && results.length === 1) {
    return 'problem' in first.outcome ? '' : FORMATS[format].format(first.outcome, { archive: first.file });
  }
  if (format === 'json') {
    const entries = results.map(({ file, outcome }) =>
      'problem' in outcome ? { file, ...outcome } : { file, report: outcome },
    );
    return `${JSON.stringify(entries, null, 2)}\n`;
  }
  const texts = results.map(({ file, outcome }) => {
    const text = 'problem' in outcome ? `NOT AUDITED: ${summaryOf({ outcome })}\n` : formatText(outcome);
    return `${file}\n${'='.repeat(file.length)}\n\n${text}`;
  });
  return texts.join('\n');
}
