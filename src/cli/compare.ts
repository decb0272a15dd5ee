import { parseArgs } from 'node:util';
import { audit } from '../audit.js';
import { compareArchives } from '../compare.js';
import { InputError } from '../errors.js';
import { ARCHIVE_LIMIT_NAMES, type Limits, limitsWith } from '../limits.js';
import { DEFAULT_POLICY } from '../policy/effective.js';
import { compareReports } from '../report/compare/compare.js';
import type { Comparison } from '../report/compare/comparison.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS, type ComparisonFormatName } from '../report/compare/formats.js';
import { comparisonSentence } from '../report/compare/text.js';
import type { Report } from '../report/report.js';
import { type Compared, readCompared, readNamedPolicy } from './compared.js';
import { type ExitCode, exitCodeOfComparison, FAIL_ON_CHANGE, type FailOnChange } from './exit-code.js';
import { limitValues } from './limit-option.js';
import { writeOutput } from './output.js';
import { CallError, oneOf, UsageError } from './usage.js';

interface Settings {
  readonly old: string;
  readonly new: string;
  readonly format: ComparisonFormatName;
  readonly out: string | undefined;
  readonly failOn: FailOnChange;
  readonly limits: Limits;
  readonly oldPolicy: string | undefined;
  readonly newPolicy: string | undefined;
}

/** `linebudget compare OLD NEW`: the comparison to standard output or a file, a sentence to standard error. */
export async function compareCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const comparison = await comparisonOf(settings);
  console.error(comparisonSentence(comparison));
  await writeOutput(COMPARISON_FORMATS[settings.format].format(comparison), settings.out);
  return exitCodeOfComparison(comparison, settings.failOn);
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      policy: { type: 'string' },
      'old-policy': { type: 'string' },
      'new-policy': { type: 'string' },
      'fail-on': { type: 'string', default: 'new:error' },
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const [old, fresh, ...more] = positionals;
  if (old === undefined || fresh === undefined || more.length > 0) {
    throw new UsageError('name two project archives or JSON reports, the older one first');
  }
  return {
    old,
    new: fresh,
    format: oneOf('format', values.format, COMPARISON_FORMAT_NAMES),
    out: values.out,
    failOn: oneOf('fail-on', values['fail-on'], FAIL_ON_CHANGE),
    limits: limitsWith(limitValues(values.limit, ARCHIVE_LIMIT_NAMES)),
    oldPolicy: values['old-policy'] ?? values.policy,
    newPolicy: values['new-policy'] ?? values.policy,
  };
}

async function comparisonOf(settings: Settings): Promise<Comparison> {
  const { limits } = settings;
  const old = await readCompared(settings.old, limits);
  const fresh = await readCompared(settings.new, limits);
  const policies = await readPolicies(settings, [old, fresh]);
  try {
    if ('archive' in old && 'archive' in fresh) {
      return await compareArchives({
        old: old.archive,
        new: fresh.archive,
        ...policies,
        limits,
        onRuleFailure: printRuleFailure,
      });
    }
    return compareReports(await reportOf(old, limits), await reportOf(fresh, limits));
  } catch (cause) {
    throw cause instanceof InputError ? new CallError(`${cause.message} [${cause.code}]`) : cause;
  }
}

/** A report was judged when it was made; to judge it by another policy takes its archive. */
async function readPolicies({ oldPolicy, newPolicy }: Settings, sides: readonly Compared[]) {
  const isGiven = oldPolicy !== undefined || newPolicy !== undefined;
  const report = sides.find((side) => 'report' in side);
  if (isGiven && report !== undefined) {
    throw new CallError(`${report.file} is a report, which was judged already; a policy takes two project archives`);
  }
  return {
    oldPolicy: oldPolicy === undefined ? DEFAULT_POLICY : await readNamedPolicy(oldPolicy),
    newPolicy: newPolicy === undefined ? DEFAULT_POLICY : await readNamedPolicy(newPolicy),
  };
}

async function reportOf(side: Compared, limits: Limits): Promise<Report> {
  return 'report' in side ? side.report : audit(side.archive, { limits, onRuleFailure: printRuleFailure });
}

function printRuleFailure(rule: string, cause: unknown): void {
  console.error(`The rule ${rule} failed by a fault of this tool:`, cause);
}
