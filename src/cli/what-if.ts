import { parseArgs } from 'node:util';
import { type Change, readChanges } from '../changes/changes.js';
import { CHANGE_KINDS, changeInWords } from '../changes/words.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS } from '../report/compare/formats.js';
import { comparisonSentence } from '../report/compare/text.js';
import { whatIf } from '../what-if.js';
import { archiveAt, printRuleFailure } from './archive-file.js';
import { type ExitCode, exitCodeOfComparison, FAIL_ON_CHANGE } from './exit-code.js';
import { documentAt, GIVEN_OPTIONS, givenBy } from './given-files.js';
import { archiveLimits } from './limit-option.js';
import { writeOutput } from './output.js';
import { oneOf, UsageError } from './usage.js';

// Nothing was measured of what is not there yet, and the audit that the other is held against is made here.
const { measured: _, baseline: __, ...WHAT_IF_OPTIONS } = GIVEN_OPTIONS;

const SAID: { type: 'string'; multiple: true; default: string[] } = { type: 'string', multiple: true, default: [] };

/** `linebudget what-if ARCHIVE`: verdicts before and after changes, as a comparison; a sentence to standard error. */
export async function whatIfCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      changes: { type: 'string' },
      add: SAID,
      remove: SAID,
      supply: SAID,
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      'fail-on': { type: 'string', default: 'new:error' },
      ...WHAT_IF_OPTIONS,
      limit: SAID,
    },
  });
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0) throw new UsageError('name one project archive');
  const format = oneOf('format', values.format, COMPARISON_FORMAT_NAMES);
  const failOn = oneOf('fail-on', values['fail-on'], FAIL_ON_CHANGE);
  const limits = archiveLimits(values.limit);
  const said = CHANGE_KINDS.flatMap((kind) => values[kind].map((text) => changeInWords(kind, text)));
  const changes = [...(await changesAt(values.changes)), ...said];
  if (changes.length === 0) throw new UsageError('say what changes: --add, --remove, --supply or --changes');
  const { baseline: ___, ...given } = await givenBy(values);
  const archive = await archiveAt(file, limits);
  const comparison = await whatIf({ archive, changes, ...given, limits, onRuleFailure: printRuleFailure });
  console.error(`${file}: ${comparisonSentence(comparison)}`);
  await writeOutput(COMPARISON_FORMATS[format].format(comparison), values.out);
  return exitCodeOfComparison(comparison, failOn);
}

async function changesAt(file: string | undefined): Promise<readonly Change[]> {
  if (file === undefined) return [];
  const { text, name } = await documentAt(file, `--changes ${file}`);
  return readChanges(text, name);
}
