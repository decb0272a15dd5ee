import { parseArgs } from 'node:util';
import { reportRule } from '../report/build.js';
import { bullet, table } from '../report/format/layout.js';
import type { ReportRule } from '../report/report.js';
import { RULES } from '../rules/index.js';
import { sourceText } from '../rules/words.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { CallError, oneOf, RULE_FORMATS, UsageError } from './usage.js';

/** `linebudget rules [ID]`: the rules with why, limit and source. */
export function rulesCommand(args: readonly string[]): ExitCode {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { format: { type: 'string', default: 'text' } },
  });
  const format = oneOf('format', values.format, RULE_FORMATS);
  const [id, ...more] = positionals;
  if (more.length > 0) throw new UsageError('name one rule, or none for the list');
  const rules = RULES.map((rule) => reportRule(rule));
  const chosen = id === undefined ? rules : [ruleOf(id, rules)];
  const whole = id === undefined ? chosen : chosen[0];
  process.stdout.write(
    format === 'json' ? `${JSON.stringify(whole, null, 2)}\n` : `${textOf(chosen, id !== undefined)}\n`,
  );
  return EXIT.fine;
}

function ruleOf(id: string, rules: readonly ReportRule[]): ReportRule {
  const rule = rules.find((one) => one.id === id);
  if (rule === undefined) throw new CallError(`there is no rule "${id}"; linebudget rules lists them`);
  return rule;
}

function textOf(rules: readonly ReportRule[], inFull: boolean): string {
  if (!inFull)
    return table(
      rules.map(({ id, severity, title }) => [id, severity, title]),
      ['left', 'left', 'left'],
    );
  return rules
    .map((rule) =>
      [
        `${rule.id} (${rule.severity}): ${rule.title}`,
        bullet('Why:', rule.why),
        bullet('Limit:', rule.limit),
        bullet('Basis:', sourceText(rule)),
        bullet('Do:', rule.remedy),
      ].join('\n'),
    )
    .join('\n\n');
}
