import type { ReportUnknown } from '../../report.js';
import { html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { table } from './table.js';
import { en } from './texts.js';

/** The products whose data sheet has to be looked up, with room for what it says. */
export function dataSheets(page: Page): Markup {
  const { unknowns } = page.report;
  if (unknowns.length === 0)
    return html`<p>${en.unknowns.none}</p>
`;
  return table<ReportUnknown>({
    caption: en.unknowns.caption,
    columns: [
      { heading: en.columns.product, cell: ({ product, productId }) => product ?? productId },
      { heading: en.columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
      { heading: en.columns.maker, cell: ({ manufacturer }) => manufacturer },
      { heading: en.unknowns.wanted, cell: ({ wanted }) => wanted },
      { heading: en.unknowns.because, cell: ({ because }) => because },
      { heading: en.unknowns.declared, cell: ({ declared }) => declared },
      {
        heading: en.unknowns.charged,
        cell: ({ chargedMa }) => en.maOrNothing(chargedMa),
        value: ({ chargedMa }) => chargedMa,
      },
      { heading: en.columns.devices, cell: ({ devices }) => devices, value: ({ devices }) => devices },
      {
        heading: en.unknowns.turns,
        cell: ({ turnsAtMa }) => en.maOrNothing(turnsAtMa),
        value: ({ turnsAtMa }) => turnsAtMa,
      },
      { heading: en.columns.segment, cell: ({ places }) => placesOf(places, page) },
      { heading: en.unknowns.found, cell: () => html`<span class="blank"></span>` },
    ],
    rows: unknowns,
  });
}

function placesOf(places: ReportUnknown['places'], page: Page): Markup[] {
  return places.map(({ segmentId, devices }, index) => html`${index > 0 && ', '}${page.link(segmentId)} (${devices})`);
}
