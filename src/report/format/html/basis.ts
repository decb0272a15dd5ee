import { sourceText } from '../../../rules/words.js';
import type { ReportRule } from '../../report.js';
import { changedKeys } from '../policy-entries.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { policyTable } from './policy-table.js';
import { bullets, facts, folded, numberColumn, table } from './table.js';

/** What the report rests on: the caution, the policy, what was checked, and the digests of what was read. */
export function basis(page: Page): Markup {
  const { report, texts } = page;
  return html`<h3>${texts.basis.caution}</h3>
<p class="caution">${report.caution}</p>
<h3>${texts.basis.policy({ name: report.policy.extends, changed: changedKeys(report.policy).length })}</h3>
${policyTable(page)}<h3>${texts.basis.coverage}</h3>
${coverage(page)}<h3>${texts.basis.projects}</h3>
${projects(page)}<h3>${texts.basis.digests}</h3>
${digests(page)}`;
}

const STATUSES = ['passed', 'found', 'skipped', 'failed'] as const;

function coverage({ report, words, texts, figures }: Page): Markup {
  const { coverage: entries, rules, segments } = report;
  const counts = new Map<string, number>();
  for (const { rule, status } of entries) counts.set(`${rule} ${status}`, (counts.get(`${rule} ${status}`) ?? 0) + 1);
  const of = ({ id }: ReportRule, status: string) => counts.get(`${id} ${status}`) ?? 0;
  const all = (status: string) => entries.filter((entry) => entry.status === status).length;
  const told = words.report.coverage.counts({
    rules: rules.length,
    segments: segments.length,
    passed: all('passed'),
    found: all('found'),
    skipped: all('skipped'),
    failed: all('failed'),
  });
  const ended = table<ReportRule>({
    caption: texts.basis.coverageCaption,
    columns: [
      { heading: texts.basis.rule, cell: ({ title }) => title },
      { heading: texts.basis.inForce, cell: ({ inForce }) => texts.names.inForce[inForce] },
      ...STATUSES.map((status) =>
        numberColumn<ReportRule>(figures, [texts.basis.statuses[status], ''], (rule) => of(rule, status)),
      ),
      { heading: texts.findings.limit, cell: ({ limit }) => limit },
      { heading: texts.findings.source, cell: (rule) => sourceText(rule, words) },
    ],
    rows: rules,
  });
  return html`<p>${told}</p>
${ended}${skippedBecause({ report, words, texts })}`;
}

/** Most often first. */
function skippedBecause({ report, words, texts }: Pick<Page, 'report' | 'words' | 'texts'>): Markup | false {
  const reasons = new Map<string, number>();
  for (const { missing } of report.coverage) {
    if (missing !== null) reasons.set(missing, (reasons.get(missing) ?? 0) + 1);
  }
  const told = [...reasons].sort(([, a], [, b]) => b - a);
  return (
    told.length > 0 &&
    folded(
      texts.basis.missing,
      bullets(told.map(([reason, times]) => words.report.coverage.skipped({ times, reason }))),
    )
  );
}

function projects({ report, texts, figures }: Page): Markup {
  const rows = report.projects.flatMap((project) =>
    project.installations.map((installation) => ({ project, installation })),
  );
  type Row = (typeof rows)[number];
  const number = (heading: string, value: (row: Row) => number | null) =>
    numberColumn<Row>(figures, [heading, ''], value);
  return table<Row>({
    caption: texts.basis.projects,
    columns: [
      { heading: texts.basis.project, cell: ({ project }) => `${project.name ?? texts.frame.noName} (${project.id})` },
      { heading: texts.basis.installation, cell: ({ installation }) => installation.name ?? installation.number },
      number(texts.basis.schema, ({ project }) => project.schema),
      number(texts.basis.segments, ({ installation }) => installation.segments),
      number(texts.summary.placed, ({ installation }) => installation.devicesPlaced),
      number(texts.summary.unplaced, ({ installation }) => installation.devicesUnplaced),
    ],
    rows,
    isHeaded: true,
  });
}

/** A plan has no parts. */
function digests({ report, words, texts, figures }: Page): Markup {
  const { archive, source, policy, site, asOf, baseline, summary } = report;
  const code = (sha256: string) => html`sha-256 <code>${sha256}</code>`;
  const parts = table<(typeof archive.parts)[number]>({
    caption: texts.basis.parts,
    columns: [
      { heading: texts.basis.part, cell: ({ name }) => name },
      numberColumn(figures, [texts.basis.length, ''], ({ bytes }) => bytes),
      { heading: texts.basis.crc, cell: ({ crc32 }) => html`<code>${crc32}</code>` },
    ],
    rows: archive.parts,
    isHeaded: true,
  });
  return html`<div class="digests">${facts([
    [words.names.sources[source], html`${texts.basis.bytes(archive.bytes)}, ${code(archive.sha256)}`],
    [texts.basis.policyDigest, code(policy.sha256)],
    [texts.basis.site, site && code(site.sha256)],
    [texts.basis.waivers, asOf && texts.basis.waiversText({ asOf, waived: summary.waived })],
    [texts.basis.baseline, baseline && texts.basis.baselineText(baseline)],
  ])}</div>
${archive.parts.length > 0 && folded(texts.basis.parts, parts)}`;
}
