import { parseArgs } from 'node:util';
import { compare } from '../compare.js';
import type { Limits } from '../limits.js';
import type { Comparison } from '../report/compare/comparison.js';
import { COMPARISON_FORMAT_NAMES, COMPARISON_FORMATS, type ComparisonFormatName } from '../report/compare/formats.js';
import { comparisonSentence } from '../report/compare/text.js';
import { archiveAt, printRuleFailure } from './archive-file.js';
import { type ExitCode, exitCodeOfComparison, FAIL_ON_CHANGE, type FailOnChange } from './exit-code.js';
import { givenBy, policyNamed } from './given-files.js';
import { archiveLimits } from './limit-option.js';
import { writeOutput } from './output.js';
import { oneOf, UsageError } from './usage.js';

interface Settings {
  readonly old: string;
  readonly new: string;
  readonly format: ComparisonFormatName;
  readonly out: string | undefined;
  readonly failOn: FailOnChange;
  readonly limits: Limits;
  readonly oldPolicy: string | undefined;
  readonly newPolicy: string | undefined;
  readonly site: string | undefined;
  readonly waivers: string | undefined;
  readonly asOf: string | undefined;
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
      site: { type: 'string' },
      waivers: { type: 'string' },
      'as-of': { type: 'string' },
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
    limits: archiveLimits(values.limit),
    oldPolicy: values['old-policy'] ?? values.policy,
    newPolicy: values['new-policy'] ?? values.policy,
    site: values.site,
    waivers: values.waivers,
    asOf: values['as-of'],
  };
}

async function comparisonOf(settings: Settings): Promise<Comparison> {
  const { limits, site, waivers, asOf } = settings;
  const policy = async (name: string | undefined) => (name === undefined ? undefined : policyNamed(name));
  return compare({
    old: await archiveAt(settings.old, limits),
    new: await archiveAt(settings.new, limits),
    oldPolicy: await policy(settings.oldPolicy),
    newPolicy: await policy(settings.newPolicy),
    ...(await givenBy({ site, waivers, 'as-of': asOf })),
    limits,
    onRuleFailure: printRuleFailure,
  });
}
