import { sourceText } from '../../rules/words.js';
import type { Words } from '../../words/words.js';
import type { Report, ReportFinding, ReportRule } from '../report.js';
import { bullet } from './layout.js';

const MOST_PER_RULE = 10;

/** The findings, worst first, by rule. */
export function findingsText(report: Report, words: Words): string {
  const texts = words.report.findings;
  if (report.findings.length === 0) return texts.none;
  const { error = 0, warning = 0, note = 0 } = report.summary.findings;
  const title = texts.title({
    counts: words.report.counts({ error, warning, note }),
    waived: report.summary.waived,
  });
  const groups = new Map<string, ReportFinding[]>();
  for (const finding of report.findings) {
    const key = `${finding.severity} ${finding.rule}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [finding]);
    else group.push(finding);
  }
  const rules = new Map(report.rules.map((rule) => [rule.id, rule]));
  return [title, ...[...groups.values()].map((group) => findingGroup(group, rules, words))].join('\n\n');
}

function findingGroup(group: readonly ReportFinding[], rules: ReadonlyMap<string, ReportRule>, words: Words): string {
  const [first] = group;
  const rule = first && rules.get(first.rule);
  if (first === undefined || rule === undefined) return '';
  const { marks, why, limit, cut } = words.report.findings;
  const shown = group.slice(0, MOST_PER_RULE);
  const isCut = shown.length < group.length;
  return [
    `${marks[first.severity]}  ${rule.title}  [${rule.id}]`,
    bullet(`  ${why}`, rule.why),
    bullet(`  ${limit}`, `${rule.limit} (${sourceText(rule, words)})`),
    ...shown.flatMap((finding) => findingLines(finding, words)),
    ...(isCut ? [`  - ${cut({ shown: shown.length, total: group.length })}`] : []),
  ].join('\n');
}

function findingLines(finding: ReportFinding, words: Words): string[] {
  const { message, remedy, waiver, sinceBaseline, fingerprint } = finding;
  const texts = words.report.findings;
  const isTold = sinceBaseline !== null && sinceBaseline !== 'unchanged';
  const since = isTold ? `(${words.names.sinceBaseline[sinceBaseline]}) ` : '';
  return [
    bullet('  -', `${since}${message}`),
    bullet(`    ${texts.figure}`, `${figureText(finding, words)} [${fingerprint.slice(0, SHORT_FINGERPRINT)}]`),
    waiver === null ? bullet(`    ${texts.do}`, remedy) : bullet(`    ${texts.waived}`, texts.waiver(waiver)),
  ];
}

/** How a fingerprint begins: what the command that waives a finding takes. The JSON report has all of it. */
const SHORT_FINGERPRINT = 12;

/** Units of what is measured. */
const MEASURED: ReadonlySet<string> = new Set(['mA', 'V', 'm', 'h', 'Ah']);

/** Units of what numbers something: how far apart two of them are says nothing. */
const NUMBERING: ReadonlySet<string> = new Set(['schema number']);

/** A finding’s figure and limit: `load 700 mA, must be at most 640 mA; 60 mA too much; limit by policy file (targetLoad)`. */
export function figureText({ measure }: Pick<ReportFinding, 'measure'>, words: Words): string {
  const { quantity, unit, value, limit, holds, breakEvenMa, limitFrom } = measure;
  const { names, report } = words;
  const texts = report.figure;
  const found = texts.value({ quantity, value: value === null ? null : withUnit(value, unit, words) });
  const bound = limit === null ? texts.noLimit : texts.bound({ holds, limit: withUnit(limit, unit, words) });
  return [
    `${found}, ${bound}`,
    ...marginText(measure, words),
    ...(breakEvenMa === null ? [] : [texts.turn(breakEvenMa)]),
    ...(limitFrom.setBy === null ? [] : [texts.limitBy({ setBy: names.setBy(limitFrom.setBy), key: limitFrom.key })]),
  ].join('; ');
}

/** How far the figure is from its limit; nothing where it is on it, as it may be where the limit itself is too much. */
function marginText({ margin, unit, holds }: ReportFinding['measure'], words: Words): string[] {
  if (margin === null || margin === 0 || NUMBERING.has(unit)) return [];
  const facts = { isBeyond: margin < 0, isFloor: holds === 'at least', isCounted: !MEASURED.has(unit) };
  return [words.report.figure.margin({ margin: withUnit(Math.abs(margin), unit, words), ...facts })];
}

/** What is counted names itself. */
function withUnit(figure: number, unit: string, { figures }: Words): string {
  return MEASURED.has(unit) ? `${figures.number(figure)} ${unit}` : figures.number(figure);
}
