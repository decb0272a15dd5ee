import { VERDICTS } from '../../../electrical/verdict.js';
import { SEVERITIES } from '../../../policy/policy.js';
import type { Report } from '../../report.js';
import type { FormatContext } from '../context.js';
import { PAGE_POLICY, SCRIPT, STYLE } from './assets.js';
import { assumptions } from './assumptions.js';
import { basis } from './basis.js';
import { dataSheets } from './data-sheets.js';
import { findings } from './findings.js';
import { html, type Markup, ownText } from './markup.js';
import { Page } from './model.js';
import { proposals } from './proposals.js';
import { schedule } from './schedule.js';
import { segmentCards } from './segment-card.js';
import { segmentTable } from './segment-table.js';
import { siteCheck } from './site-check.js';
import { strips } from './strips.js';
import { summary } from './summary.js';
import { folded } from './table.js';
import { en } from './texts.js';
import { utilisationChart } from './utilisation-chart.js';

/** The parts of the page, in their order; the names are what deep links go to. */
const SECTIONS: readonly (readonly [id: string, heading: string, make: (page: Page) => Markup])[] = [
  ['summary', en.summary.heading, summary],
  ['plant', en.plant.heading, (page) => html`${strips(page)}${folded(en.plant.table, segmentTable(page))}`],
  ['utilisation', en.chart.heading, utilisationChart],
  ['findings', en.findings.heading, findings],
  ['segments', en.segments.heading, segmentCards],
  ['proposals', en.proposals.heading, proposals],
  ['schedule', en.schedule.heading, schedule],
  ['data-sheets', en.unknowns.heading, dataSheets],
  ['site-check', en.check.heading, siteCheck],
  ['assumptions', en.assumptions.heading, assumptions],
  ['basis', en.basis.heading, basis],
];

/** The report as one page that needs nothing else: no network, and without script it is complete. */
export function reportPage(report: Report, context: FormatContext): string {
  const page = new Page(report, context);
  const title = en.page.title(report.projects.map(({ name }) => name ?? en.page.noName));
  const { name, version } = report.tool;
  return html`<!DOCTYPE html>
<html lang="${en.language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${PAGE_POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<style>${ownText(STYLE)}</style>
</head>
<body>
<a class="skip" href="#content">${en.page.skip}</a>
<header>
<h1>${title}</h1>
<p>${en.page.made(context.archive, name, version)}</p>
</header>
${contents()}${filter(report)}<main id="content">
${SECTIONS.map(
  ([
    id,
    heading,
    make,
  ]) => html`<section id="${id}" aria-labelledby="${id}-heading"><h2 id="${id}-heading">${heading}</h2>
${make(page)}</section>
`,
)}</main>
<script>${ownText(SCRIPT)}</script>
</body>
</html>
`.text;
}

function contents(): Markup {
  return html`<nav aria-label="${en.page.contents}"><ul class="menu">${SECTIONS.map(([id, heading]) => html`<li><a href="#${id}">${heading}</a></li>`)}</ul></nav>
`;
}

/** What the script works with; without one it is not shown. */
function filter({ segments, findings }: Report): Markup {
  const verdicts = VERDICTS.filter((verdict) => segments.some((segment) => segment.verdict === verdict));
  const severities = SEVERITIES.filter((severity) => findings.some((finding) => finding.severity === severity));
  const choice = (name: string, heading: string, values: readonly string[]) =>
    html`<label>${heading} <select data-filter="${name}"><option value="">${en.filter.all}</option>${values.map((value) => html`<option>${value}</option>`)}</select></label>
`;
  return html`<div class="filter" role="search" aria-label="${en.filter.heading}" data-sort-label="${en.filter.sort}" hidden>
${choice('verdicts', en.filter.verdict, verdicts)}${choice('severities', en.filter.severity, severities)}<label>${en.filter.text} <input type="search" data-filter="text"></label>
<p role="status" data-shown="${en.filter.shown}"></p>
</div>
`;
}
