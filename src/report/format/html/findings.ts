import { sourceText } from '../../../rules/words.js';
import type { ReportFinding, ReportRule } from '../../report.js';
import { figureText } from '../text.js';
import { html, type Markup } from './markup.js';
import { filterable, type Page } from './model.js';
import { groupedBy } from './order.js';
import { facts } from './table.js';
import { en } from './texts.js';

/** Every finding, worst first, those of a rule together: what, why, what to do, the limit and its source. */
export function findings(page: Page): Markup {
  const { report } = page;
  if (report.findings.length === 0)
    return html`<p>${en.findings.none}</p>
`;
  const rules = new Map(report.rules.map((rule) => [rule.id, rule]));
  const groups = groupedBy(report.findings, ({ severity, rule }) => `${severity} ${rule}`);
  return html`${groups.map((group) => findingGroup(group, rules.get(group[0]?.rule ?? ''), page))}`;
}

function findingGroup(group: readonly ReportFinding[], rule: ReportRule | undefined, page: Page): Markup | false {
  const [first] = group;
  if (first === undefined) return false;
  const why = rule && [
    [en.findings.why, rule.why] as const,
    [en.findings.limit, rule.limit] as const,
    [en.findings.source, sourceText(rule)] as const,
  ];
  return html`<section class="rule s-${first.severity}" data-group><h3><span class="severity s-${first.severity}">${first.severity}</span> ${en.findings.group(rule?.title ?? first.rule, group.length)} <code>${first.rule}</code></h3>
${why && facts(why)}${group.map((finding) => one(finding, page))}</section>
`;
}

function one(finding: ReportFinding, page: Page): Markup {
  const { message, remedy, segments, location, restsOn, waiver, sinceBaseline, measure, fingerprint } = finding;
  const { basis, source } = measure.limitFrom;
  const verdicts = segments.flatMap((id) => page.segmentOf(id)?.verdict ?? []);
  return html`<article class="finding s-${finding.severity}" id="${page.findingAnchorOf(finding)}" ${filterable(verdicts, [finding.severity])}><p class="what">${message}</p>
${facts([
  [en.findings.waived, waiver && en.findings.waiverText(waiver)],
  [en.findings.remedy, remedy],
  [en.findings.figure, figureText(finding)],
  [en.findings.limitFrom, sourceText({ basis, source })],
  [
    en.findings.concerns,
    segments.length > 0 && segments.map((id, index) => html`${index > 0 && ', '}${page.link(id)}`),
  ],
  [en.findings.restsOn, restsOn],
  [en.findings.since, sinceBaseline],
  [en.findings.place, en.findings.placeText(location)],
  [en.findings.fingerprint, html`<a href="#${page.findingAnchorOf(finding)}"><code>${fingerprint}</code></a>`],
])}</article>
`;
}
