import { parseArgs } from 'node:util';
import { auditPlan } from '../audit.js';
import { FORMAT_NAMES, FORMATS, wordsFor } from '../report/format/index.js';
import { summaryLine } from '../report/format/text.js';
import { printRuleFailure } from './archive-file.js';
import { type ExitCode, exitCodeOf, FAIL_ON_FOUND } from './exit-code.js';
import { documentAt, givenBy, JUDGING_OPTIONS } from './given-files.js';
import { LANGUAGE_OPTION, languageOf } from './language-option.js';
import { archiveLimits } from './limit-option.js';
import { refuseTerminal, writeOutput } from './output.js';
import { oneOf, UsageError } from './usage.js';

const { measured: _, ...PLAN_OPTIONS } = JUDGING_OPTIONS; // nothing was measured of what is not built

/** `linebudget plan FILE`: the report to standard output or a file, a summary line to standard error. */
export async function planCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      'fail-on': { type: 'string', default: 'error' },
      ...LANGUAGE_OPTION,
      ...PLAN_OPTIONS,
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0) throw new UsageError('name one plan');
  const format = oneOf('format', values.format, FORMAT_NAMES);
  refuseTerminal(format, values.out);
  const failOn = oneOf('fail-on', values['fail-on'], FAIL_ON_FOUND);
  const limits = archiveLimits(values.limit);
  const words = await wordsFor(format, languageOf(values));
  const { policy, site } = await givenBy(values);
  const plan = await documentAt(file, file);
  const report = await auditPlan(plan, { policy, site, limits, words, onRuleFailure: printRuleFailure });
  console.error(`${file}: ${summaryLine(report, words)}`);
  await writeOutput(await FORMATS[format].format(report, { archive: file, words }), values.out);
  return exitCodeOf(report, failOn);
}
