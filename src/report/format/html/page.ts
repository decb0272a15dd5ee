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
import { short } from './svg.js';
import { folded } from './table.js';
import { utilisationChart } from './utilisation-chart.js';

/** The parts of the page, in their order; the names are what deep links go to. */
const SECTIONS: readonly (readonly [id: string, text: keyof Page['texts'] & Headed, make: (page: Page) => Markup])[] = [
  ['summary', 'summary', summary],
  ['plant', 'plant', (page) => html`${strips(page)}${folded(page.texts.plant.table, segmentTable(page))}`],
  ['utilisation', 'chart', utilisationChart],
  ['findings', 'findings', findings],
  ['segments', 'segments', segmentCards],
  ['proposals', 'proposals', proposals],
  ['schedule', 'schedule', schedule],
  ['data-sheets', 'unknowns', dataSheets],
  ['site-check', 'check', siteCheck],
  ['assumptions', 'assumptions', assumptions],
  ['basis', 'basis', basis],
];

/** What has room at the foot of a page. */
const LONGEST_TITLE = 70;

/** Digits of a digest that tell one file from another. */
const DIGITS = 12;

/** Texts of a part, which has a heading. */
type Headed = {
  [name in keyof Page['texts']]: Page['texts'][name] extends { readonly heading: string } ? name : never;
}[keyof Page['texts']];

/** The report as one page that needs nothing else: no network, and without script it is complete. */
export function reportPage(report: Report, context: FormatContext): string {
  const page = new Page(report, context);
  const { frame } = page.texts;
  const title = frame.title(report.projects.map(({ name }) => name ?? frame.noName));
  const tool = `${report.tool.name} ${report.tool.version}`;
  return html`<!DOCTYPE html>
<html lang="${page.words.language}" data-sheet="${sheetOf(title, page)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${PAGE_POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<style>${ownText(STYLE)}</style>
</head>
<body>
<a class="skip" href="#content">${frame.skip}</a>
<header>
<h1>${title}</h1>
<p>${frame.made({ source: report.source, name: page.archive, tool })}</p>
<p class="handed-over">${report.asOf !== null && html`${frame.waiversAsOf(report.asOf)} `}${frame.date}: <span class="blank"></span> ${frame.checkedBy}: <span class="blank wide"></span></p>
</header>
${contents(page)}${filter(page)}<main id="content"${page.isLarge && html` class="large"`}>
${SECTIONS.map(
  ([
    id,
    text,
    make,
  ]) => html`<section id="${id}" aria-labelledby="${id}-heading"><h2 id="${id}-heading">${page.texts[text].heading}</h2>
${make(page)}</section>
`,
)}</main>
<script>${ownText(SCRIPT)}</script>
</body>
</html>
`.text;
}

/** What each printed page is of, so that a loose one can be put back. */
function sheetOf(title: string, { report, texts }: Page): string {
  const { source, archive } = report;
  return texts.frame.sheet({ title: short(title, LONGEST_TITLE), source, sha256: archive.sha256.slice(0, DIGITS) });
}

function contents({ texts }: Page): Markup {
  return html`<nav aria-label="${texts.frame.contents}"><ul class="menu">${SECTIONS.map(([id, text]) => html`<li><a href="#${id}">${texts[text].heading}</a></li>`)}</ul></nav>
`;
}

/** What the script works with; without one it is not shown. */
function filter({ report: { segments, findings: found }, texts: { filter: texts }, words: { names } }: Page): Markup {
  const verdicts = VERDICTS.filter((verdict) => segments.some((segment) => segment.verdict === verdict));
  const severities = SEVERITIES.filter((severity) => found.some((finding) => finding.severity === severity));
  const choice = (name: string, heading: string, options: readonly (readonly [value: string, text: string])[]) =>
    html`<label>${heading} <select data-filter="${name}" autocomplete="off"><option value="">${texts.all}</option>${options.map(([value, text]) => html`<option value="${value}">${text}</option>`)}</select></label>
`;
  return html`<div class="filter" role="search" aria-label="${texts.heading}" data-sort-label="${texts.sort}" hidden>
${choice(
  'verdicts',
  texts.verdict,
  verdicts.map((one) => [one, names.verdicts[one]]),
)}${choice(
  'severities',
  texts.severity,
  severities.map((one) => [one, names.severities[one]]),
)}<label>${texts.text} <input type="search" data-filter="text" autocomplete="off"></label>
<p role="status" data-shown="${texts.shown}"></p>
</div>
`;
}
