import { parseArgs } from 'node:util';
import type { Limits } from '../limits.js';
import { FORMAT_NAMES, FORMATS, type FormatName, wordsFor } from '../report/format/index.js';
import { formatText, summaryLine } from '../report/format/text.js';
import type { Words } from '../words/words.js';
import { type ArchiveOptions, type Audited, auditArchiveFile, problemLine } from './archive-file.js';
import { type ExitCode, exitCodeOf, FAIL_ON, type FailOn, worst } from './exit-code.js';
import { GIVEN_OPTIONS, type GivenValues, givenBy } from './given-files.js';
import { LANGUAGE_OPTION, languageOf } from './language-option.js';
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
  readonly words: Words;
}

/** One archive of the call: its report, or why there is none. */
interface Result extends Audited {
  readonly file: string;
}

/** `linebudget audit FILE…`: reports to standard output or a file, a summary line per archive to standard error. */
export async function auditCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = await parse(args);
  const { limits, words } = settings;
  const options = { ...(await givenBy(settings.given)), limits, words };
  const results: Result[] = [];
  for (const file of settings.files) {
    const result = await auditFile(file, settings, options);
    console.error(`${file}: ${summaryOf(result, words)}`);
    results.push(result);
  }
  await writeOutput(await render(results, settings), settings.out);
  return worst(results.map(({ exit }) => exit));
}

async function parse(args: readonly string[]): Promise<Settings> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      'fail-on': { type: 'string', default: 'error' },
      ...LANGUAGE_OPTION,
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
    words: await wordsFor(format, languageOf(values)),
  };
}

async function auditFile(file: string, { failOn }: Settings, options: ArchiveOptions): Promise<Result> {
  const { outcome, exit } = await auditArchiveFile(file, options);
  return { file, outcome, exit: 'problem' in outcome ? exit : exitCodeOf(outcome, failOn) };
}

function summaryOf({ outcome }: Pick<Result, 'outcome'>, words: Words): string {
  return 'problem' in outcome ? problemLine(outcome) : summaryLine(outcome, words);
}

/** One archive gives its report as it is; several give, in JSON, a list of file and report or problem. */
async function render(
  results: readonly Result[],
  { format, words }: Pick<Settings, 'format' | 'words'>,
): Promise<string | Uint8Array> {
  const [first] = results;
  if (first !== undefined && results.length === 1) {
    return 'problem' in first.outcome ? '' : FORMATS[format].format(first.outcome, { archive: first.file, words });
  }
  if (format === 'json') {
    const entries = results.map(({ file, outcome }) =>
      'problem' in outcome ? { file, ...outcome } : { file, report: outcome },
    );
    return `${JSON.stringify(entries, null, 2)}\n`;
  }
  const texts = results.map(({ file, outcome }) => {
    const audited = 'problem' in outcome ? null : formatText(outcome, { words });
    return `${file}\n${'='.repeat(file.length)}\n\n${audited ?? `NOT AUDITED: ${summaryOf({ outcome }, words)}\n`}`;
  });
  return texts.join('\n');
}
