import { type SiteCheckRow, siteCheckRows } from '../csv-site-check.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { table } from './table.js';
import { en } from './texts.js';

/** What to measure at hand-over, with blanks for what the meter shows. */
export function siteCheck(page: Page): Markup {
  const rows = siteCheckRows(page.report);
  if (rows.length === 0)
    return html`<p>${en.check.none}</p>
`;
  const blank = () => html`<span class="blank"></span>`;
  const inUnit = (value: number | null, unit: string) => value !== null && `${en.number(value)} ${unit}`;
  const sheet = table<SiteCheckRow>({
    caption: en.check.caption,
    columns: [
      { heading: en.columns.segment, cell: ({ segment }) => page.link(segment.id) },
      { heading: en.check.quantity, cell: ({ quantity }) => quantity },
      { heading: en.check.where, cell: ({ at }) => at },
      { heading: en.check.together, cell: ({ togetherWith }) => togetherWith.join(', ') },
      {
        heading: en.check.expected,
        cell: ({ expected, unit }) => inUnit(expected, unit),
        value: ({ expected }) => expected,
      },
      { heading: en.check.between, cell: ({ low, high, unit }) => between(low, high, unit) },
      { heading: en.check.measured, cell: ({ measured, unit }) => inUnit(measured, unit) || blank() },
      { heading: en.check.date, cell: blank },
      { heading: en.check.note, cell: blank },
    ],
    rows,
  });
  return html`<p>${en.check.intro}</p>
${sheet}<p class="signed">${en.check.signed}: <span class="blank wide"></span></p>
`;
}

function between(low: number | null, high: number | null, unit: string): string {
  if (low === null && high === null) return '';
  return `${en.range(low === null ? '' : en.number(low), high === null ? '' : en.number(high))} ${unit}`;
}
