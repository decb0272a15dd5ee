import { type SiteCheckRow, siteCheckRows } from '../csv-site-check.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { table } from './table.js';

/** What to measure at hand-over, with blanks for what the meter shows. */
export function siteCheck(page: Page): Markup {
  const { texts, words, figures } = page;
  const { check, columns, names } = texts;
  const rows = siteCheckRows(page.report);
  if (rows.length === 0)
    return html`<p>${check.none}</p>
`;
  const blank = () => html`<span class="blank"></span>`;
  const areTogether = rows.some(({ togetherWith }) => togetherWith.length > 0);
  const sheet = table<SiteCheckRow>({
    caption: check.caption,
    columns: [
      { heading: columns.segment, cell: ({ segment }) => page.link(segment.id) },
      { heading: check.quantity, cell: ({ quantity }) => names.quantities[quantity] },
      { heading: check.where, cell: (row) => (isFarEnd(row) ? words.facts.farEnd : row.at) },
      ...(areTogether
        ? [{ heading: check.together, cell: ({ togetherWith }: SiteCheckRow) => togetherWith.join(', ') }]
        : []),
      {
        heading: check.expected,
        cell: ({ expected, unit }) => figures.orNothing(expected, unit),
        value: ({ expected }) => expected,
      },
      {
        heading: check.between,
        cell: ({ low, high, unit }) => (low === null && high === null ? '' : figures.between(low, high, unit)),
        value: ({ low }) => low,
      },
      { heading: check.measured, cell: ({ measured, unit }) => figures.orNothing(measured, unit) || blank() },
      { heading: check.date, cell: blank },
      { heading: check.note, cell: () => html`<span class="blank note"></span>` },
    ],
    rows,
  });
  const areSomeLeftOut = rows.some(({ connectedBy }) => connectedBy === 'loaded' || connectedBy === 'site sheet');
  return html`<p>${check.intro}${areSomeLeftOut && ` ${check.connectedOnly}`}</p>
${sheet}<p class="signed">${check.signed}: <span class="blank wide"></span></p>
`;
}

function isFarEnd({ quantity, point }: SiteCheckRow): boolean {
  return quantity === 'voltage' && point === null;
}
