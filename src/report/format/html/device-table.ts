import type { Role } from '../../../plant/plant.js';
import type { ReportDevice, ReportSegment } from '../../report.js';
import { type Content, html, type Markup } from './markup.js';
import type { Page } from './model.js';
import { numberColumn, table } from './table.js';

/** Every device of a segment, with its current and where that is from. */
export function deviceTable({ label, devices }: ReportSegment, { words, texts, figures }: Page): Markup {
  const { segments, columns } = texts;
  if (devices.length === 0)
    return html`<p>${segments.noDevices}</p>
`;
  return table<ReportDevice>({
    caption: segments.deviceTable(words.names.segment(label)),
    columns: [
      { heading: columns.name, cell: ({ name }) => name },
      { heading: columns.address, cell: ({ address }) => address },
      { heading: columns.role, cell: (device) => roleOf(device, texts) },
      { heading: columns.product, cell: ({ product }) => product ?? segments.noProduct },
      { heading: columns.orderNumber, cell: ({ orderNumber }) => orderNumber },
      { heading: columns.maker, cell: ({ manufacturer }) => manufacturer },
      { heading: columns.place, cell: ({ location }) => location },
      numberColumn(figures, [columns.current, 'mA'], ({ currentMa }) => currentMa),
      { heading: columns.origin, cell: (device) => originOf(device, texts) },
    ],
    rows: devices,
  });
}

/** A participant of its own segment needs no remark. */
function roleOf({ role, chargedAs }: ReportDevice, { names }: Page['texts']): Content {
  const known = names.roles[role as Role] ?? role;
  return chargedAs === null || chargedAs === 'participant' ? known : `${known} (${names.chargedAs[chargedAs]})`;
}

function originOf({ origin, assumedBecause, currentMa }: ReportDevice, { names, segments }: Page['texts']): Content {
  if (currentMa === null || origin === null) return segments.noLoad;
  const known = names.origins[origin];
  const text = assumedBecause === null ? known : `${known}: ${names.because(assumedBecause)}`;
  return origin === 'assumed' ? html`<b>${text}</b>` : text;
}
