import type { ReportUnknown } from '../../report.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { numberColumn, table } from './table.js';

/** The products whose data sheet has to be looked up, with room for what it says. */
export function dataSheets(page: Page): Markup {
  const { texts, figures, report } = page;
  const { unknowns, columns, names } = texts;
  if (report.unknowns.length === 0)
    return html`<p>${unknowns.none}</p>
`;
  return table<ReportUnknown>({
    caption: unknowns.caption,
    columns: [
      { heading: columns.product, cell: ({ product, productId }) => product ?? productId },
      { heading: columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
      { heading: columns.maker, cell: ({ manufacturer }) => manufacturer },
      { heading: unknowns.wanted, cell: ({ wanted }) => names.wanted[wanted] },
      { heading: unknowns.because, cell: ({ because }) => names.because(because) },
      { heading: unknowns.declared, cell: ({ declared }) => declared },
      numberColumn(figures, [unknowns.charged, 'mA'], ({ chargedMa }) => chargedMa),
      numberColumn(figures, [columns.devices, ''], ({ devices }) => devices),
      numberColumn(figures, [unknowns.turns, 'mA'], ({ turnsAtMa }) => turnsAtMa),
      { heading: columns.segment, cell: ({ places }) => placesOf(places, page) },
      { heading: unknowns.found, cell: () => html`<span class="blank"></span>` },
    ],
    rows: report.unknowns,
  });
}

function placesOf(places: ReportUnknown['places'], page: Page): Markup[] {
  return places.map(({ segmentId, devices }, index) => html`${index > 0 && ', '}${page.link(segmentId)} (${devices})`);
}
