import { sourceText } from '../../../rules/words.js';
import type { ReportFinding, ReportRule } from '../../report.js';
import { figureText } from '../text-findings.js';
import { html, type Markup } from './markup.js';
import { filterable, type Page } from './model.js';
import { groupedBy } from './order.js';
import { facts } from './table.js';

/** Units of figures that rest on currents; what is counted, or a length, rests on none. */
const ELECTRICAL: ReadonlySet<string> = new Set(['mA', 'V', 'h', 'Ah']);

/** Every finding, worst first, those of a rule together: what, why, what to do, the limit and its source. */
export function findings(page: Page): Markup {
  const { report, words } = page;
  if (report.findings.length === 0)
    return html`<p>${words.report.findings.none}</p>
`;
  const rules = new Map(report.rules.map((rule) => [rule.id, rule]));
  const groups = groupedBy(report.findings, ({ severity, rule }) => `${severity} ${rule}`);
  return html`${groups.map((group) => findingGroup(group, rules.get(group[0]?.rule ?? ''), page))}`;
}

function findingGroup(group: readonly ReportFinding[], rule: ReportRule | undefined, page: Page): Markup | false {
  const [first] = group;
  if (first === undefined) return false;
  const { texts, words } = page;
  const { why, limit, source } = texts.findings;
  const about =
    rule &&
    facts([
      [why, rule.why],
      [limit, rule.limit],
      [source, sourceText(rule, words)],
    ]);
  const title = texts.findings.group({ title: rule?.title ?? first.rule, findings: group.length });
  return html`<section class="rule s-${first.severity}" data-group><h3><span class="severity s-${first.severity}">${words.names.severities[first.severity]}</span> ${title} <code>${first.rule}</code></h3>
${about}${group.map((finding) => one(finding, page))}</section>
`;
}

function one(finding: ReportFinding, page: Page): Markup {
  const { message, remedy, segments, location, restsOn, measure, waiver, sinceBaseline, fingerprint } = finding;
  const { texts, words } = page;
  const { findings: say, names } = texts;
  const verdicts = segments.flatMap((id) => page.segmentOf(id)?.verdict ?? []);
  const { part, line } = location;
  return html`<article class="finding s-${finding.severity}" id="${page.findingAnchorOf(finding)}" ${filterable(verdicts, [finding.severity])}><p class="what">${message}</p>
${facts([
  [say.waived, waiver && words.report.findings.waiver(waiver)],
  [say.remedy, remedy],
  [say.figure, figureText(finding, words)],
  [say.limitFrom, limitSource(finding, page)],
  [say.concerns, segments.length > 0 && page.links(segments)],
  [say.restsOn, ELECTRICAL.has(measure.unit) && names.origins[restsOn]],
  [say.since, sinceBaseline && words.names.sinceBaseline[sinceBaseline]],
  [say.place, line === null ? part : say.placeText({ part, line: String(line) })],
  [say.fingerprint, html`<a href="#${page.findingAnchorOf(finding)}"><code>${fingerprint}</code></a>`],
])}</article>
`;
}

/** Where its limit is from, if the policy sets it; else it is from where the rule has it, which stands above. */
function limitSource({ measure }: ReportFinding, { texts, words }: Page): string | null {
  const { basis, source, key } = measure.limitFrom;
  return key === null ? null : sourceText({ basis, source: texts.names.policySource({ key, source }) }, words);
}
