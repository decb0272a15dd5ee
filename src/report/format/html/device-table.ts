import type { ReportDevice, ReportSegment } from '../../report.js';
import { type Content, html, type Markup } from './markup.js';
import { type TableColumn, table } from './table.js';
import { en } from './texts.js';

/** Every device of a segment, with its current and where that is from. */
export function deviceTable({ label, devices }: ReportSegment): Markup {
  if (devices.length === 0)
    return html`<p>${en.segments.noDevices}</p>
`;
  return table({ caption: en.segments.devices(label), columns: COLUMNS, rows: devices });
}

const COLUMNS: readonly TableColumn<ReportDevice>[] = [
  { heading: en.columns.name, cell: ({ name }) => name },
  { heading: en.columns.address, cell: ({ address }) => address },
  { heading: en.columns.role, cell: roleOf },
  { heading: en.columns.product, cell: ({ product }) => product ?? en.segments.noProduct },
  { heading: en.columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
  { heading: en.columns.maker, cell: ({ manufacturer }) => manufacturer },
  { heading: en.columns.place, cell: ({ location }) => location },
  {
    heading: en.columns.current,
    cell: ({ currentMa }) => en.maOrNothing(currentMa),
    value: ({ currentMa }) => currentMa,
  },
  { heading: en.columns.origin, cell: originOf },
];

/** A participant of its own segment needs no remark. */
function roleOf({ role, chargedAs }: ReportDevice): Content {
  return chargedAs === null || chargedAs === 'participant' ? role : `${role} (${chargedAs})`;
}

function originOf({ origin, assumedBecause, currentMa }: ReportDevice): Content {
  if (currentMa === null) return en.segments.noLoad;
  const text = assumedBecause === null ? origin : `${origin}: ${assumedBecause}`;
  return origin === 'assumed' ? html`<b>${text}</b>` : text;
}
