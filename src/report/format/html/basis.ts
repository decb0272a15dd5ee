import { sourceText } from '../../../rules/words.js';
import type { Report, ReportRule } from '../../report.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { policyTable } from './policy-table.js';
import { bullets, facts, folded, table } from './table.js';
import { en } from './texts.js';

/** What the report rests on: the caution, the policy, what was checked, and the digests of what was read. */
export function basis({ report }: Page): Markup {
  return html`<h3>${en.basis.caution}</h3>
<p class="caution">${report.caution}</p>
<h3>${en.basis.policy(report.policy.extends)}</h3>
${policyTable(report)}<h3>${en.basis.coverage}</h3>
${coverage(report)}<h3>${en.basis.projects}</h3>
${projects(report)}<h3>${en.basis.digests}</h3>
${digests(report)}`;
}

const STATUSES = ['passed', 'found', 'skipped', 'failed'] as const;

function coverage({ coverage: entries, rules }: Report): Markup {
  const counts = new Map<string, number>();
  const reasons = new Map<string, number>();
  for (const { rule, status, missing } of entries) {
    counts.set(`${rule} ${status}`, (counts.get(`${rule} ${status}`) ?? 0) + 1);
    if (missing !== null) reasons.set(missing, (reasons.get(missing) ?? 0) + 1);
  }
  const skipped = [...reasons].sort(([, a], [, b]) => b - a).map(([reason, times]) => en.basis.skipped(times, reason));
  const of = ({ id }: ReportRule, status: string) => counts.get(`${id} ${status}`) ?? 0;
  const ended = table<ReportRule>({
    caption: en.basis.coverageCaption,
    columns: [
      { heading: en.basis.rule, cell: ({ title }) => title },
      { heading: en.basis.inForce, cell: ({ inForce }) => inForce },
      ...STATUSES.map((status) => ({
        heading: en.basis.statuses[status],
        cell: (rule: ReportRule) => of(rule, status),
        value: (rule: ReportRule) => of(rule, status),
      })),
      { heading: en.findings.limit, cell: ({ limit }) => limit },
      { heading: en.findings.source, cell: sourceText },
    ],
    rows: rules,
  });
  return html`${ended}${skipped.length > 0 && folded(en.basis.missing, bullets(skipped))}`;
}

function projects({ projects: all }: Report): Markup {
  const rows = all.flatMap((project) => project.installations.map((installation) => ({ project, installation })));
  return table<(typeof rows)[number]>({
    caption: en.basis.projects,
    columns: [
      { heading: en.basis.project, cell: ({ project }) => `${project.name ?? en.page.noName} (${project.id})` },
      { heading: en.columns.name, cell: ({ installation }) => installation.name ?? installation.number },
      { heading: en.basis.schema, cell: ({ project }) => project.schema },
      { heading: en.basis.segments, cell: ({ installation }) => installation.segments },
      { heading: en.summary.placed, cell: ({ installation }) => installation.devicesPlaced },
      { heading: en.summary.unplaced, cell: ({ installation }) => installation.devicesUnplaced },
    ],
    rows,
  });
}

function digests({ archive, source, policy, site, asOf, baseline, summary }: Report): Markup {
  const read = table({
    caption: en.basis.parts,
    columns: [
      { heading: en.basis.part, cell: ({ name }) => name },
      { heading: en.basis.length, cell: ({ bytes }) => bytes, value: ({ bytes }) => bytes },
      { heading: en.basis.crc, cell: ({ crc32 }) => html`<code>${crc32}</code>` },
    ],
    rows: archive.parts,
  });
  return html`${facts([
    [en.basis.archive[source], en.basis.bytes(archive.bytes, archive.sha256)],
    [en.basis.policyDigest, en.basis.sha(policy.sha256)],
    [en.basis.site, site && en.basis.sha(site.sha256)],
    [en.basis.waivers, asOf && en.basis.asOf(asOf, summary.waived)],
    [en.basis.baseline, baseline && en.basis.baselineText(baseline.sha256, baseline.tool)],
  ])}${archive.parts.length > 0 && folded(en.basis.parts, read)}`;
}
