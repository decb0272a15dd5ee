import { parseArgs } from 'node:util';
import { reportRule } from '../report/build.js';
import { bullet, table } from '../report/format/layout.js';
import type { ReportRule } from '../report/report.js';
import { rulesIn } from '../rules/index.js';
import { sourceText } from '../rules/words.js';
import { wordsOf } from '../words/language.js';
import type { Words } from '../words/words.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { LANGUAGE_OPTION, languageOf } from './language-option.js';
import { CallError, oneOf, RULES_FORMATS, UsageError } from './usage.js';

/** `linebudget rules [ID]`: the rules with why, limit and source. */
export async function rulesCommand(args: readonly string[]): Promise<ExitCode> {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: { format: { type: 'string', default: 'text' }, ...LANGUAGE_OPTION },
  });
  const format = oneOf('format', values.format, RULES_FORMATS);
  const [id, ...more] = positionals;
  if (more.length > 0) throw new UsageError('name one rule, or none for the list');
  const words = await wordsOf(languageOf(values));
  const rules = rulesIn(words).map((rule) => reportRule(rule));
  const chosen = id === undefined ? rules : [ruleOf(id, rules)];
  const whole = id === undefined ? chosen : chosen[0];
  process.stdout.write(
    format === 'json' ? `${JSON.stringify(whole, null, 2)}\n` : `${textOf(chosen, id !== undefined, words)}\n`,
  );
  return EXIT.fine;
}

function ruleOf(id: string, rules: readonly ReportRule[]): ReportRule {
  const rule = rules.find((one) => one.id === id);
  if (rule === undefined) throw new CallError(`there is no rule "${id}"; linebudget rules lists them`);
  return rule;
}

function textOf(rules: readonly ReportRule[], inFull: boolean, words: Words): string {
  const { names, report } = words;
  const { why, limit, basis, do: remedy } = report.findings;
  if (!inFull)
    return table(
      rules.map(({ id, severity, title }) => [id, names.severities[severity], title]),
      ['left', 'left', 'left'],
    );
  return rules
    .map((rule) =>
      [
        `${rule.id} (${names.severities[rule.severity]}): ${rule.title}`,
        bullet(why, rule.why),
        bullet(limit, rule.limit),
        bullet(basis, sourceText(rule, words)),
        bullet(remedy, rule.remedy),
      ].join('\n'),
    )
    .join('\n\n');
}
