import { parseArgs } from 'node:util';
import { BUILT_IN, BUILT_IN_FOR } from '../policy/built-in.js';
import { type EffectivePolicy, policyDigest, sourceOf } from '../policy/effective.js';
import { BUILT_IN_NAMES, type PolicyKey } from '../policy/policy.js';
import { table } from '../report/format/layout.js';
import { saidIn } from '../report/format/policy-entries.js';
import { sourceText } from '../rules/words.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { policyNamed } from './given-files.js';
import { oneOf, UsageError } from './usage.js';

/** `linebudget policy [FILE]`: the policy in force, with who set each value and where it is from. */
export async function policyCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { format: { type: 'string', default: 'text' } },
  });
  const format = oneOf('format', values.format, ['text', 'json'] as const);
  const [name, ...more] = positionals;
  if (more.length > 0) throw new UsageError('name one policy, or none for common practice');
  const policy = await policyNamed(name);
  process.stdout.write(format === 'json' ? jsonOf(policy) : textOf(policy));
  return EXIT.fine;
}

function jsonOf(policy: EffectivePolicy): string {
  const sources = Object.fromEntries(keysOf(policy).map((key) => [key, sourceOf(key, policy).source]));
  return `${JSON.stringify({ sha256: policyDigest(policy.values), ...policy, sources }, null, 2)}\n`;
}

function textOf(policy: EffectivePolicy): string {
  const rows = keysOf(policy).flatMap((key) => rowsOf(key, policy));
  const lines = [
    `Policy: extends ${policy.extends} (${BUILT_IN_FOR[policy.extends]}); sha-256 ${policyDigest(policy.values)}`,
    '',
    table([['Value', '', 'Set by', 'From'], ...rows], ['left', 'left', 'left', 'left']),
    '',
    `Built in: ${BUILT_IN_NAMES.map((name) => `${name} (${BUILT_IN_FOR[name]})`).join('; ')}.`,
  ];
  return `${lines.join('\n')}\n`;
}

function keysOf({ values }: EffectivePolicy): PolicyKey[] {
  return Object.keys(values) as PolicyKey[];
}

/** A value in a row; of lists each entry, as each may be another's. */
function rowsOf(key: PolicyKey, policy: EffectivePolicy): string[][] {
  const { values, setBy } = policy;
  const from = sourceText(sourceOf(key, policy));
  if (key === 'severities') return severityRows(policy);
  const value = values[key];
  if (!Array.isArray(value)) return [[key, String(value), setBy[key], from]];
  if (value.length === 0) return [[key, 'none', setBy[key], from]];
  return value.map((entry, index) => [`${key}[${index}]`, entryText(entry), setBy[key], index === 0 ? from : '']);
}

function severityRows({ extends: base, values, setBy }: EffectivePolicy): string[][] {
  const entries = Object.entries(values.severities);
  if (entries.length === 0) return [['severities', 'each rule’s own', setBy.severities, '']];
  const builtIn: Readonly<Record<string, unknown>> = BUILT_IN[base].severities ?? {};
  return entries.map(([rule, severity]) => {
    const by = builtIn[rule] === severity ? base : 'policy file';
    return [`severities.${rule}`, String(severity), by, by === base ? BUILT_IN_FOR[base] : 'set by the policy file'];
  });
}

function entryText(entry: object): string {
  return saidIn(entry)
    .map(([name, text]) => `${name} ${text}`)
    .join(', ');
}
