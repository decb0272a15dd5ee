import type { ReportDevice, ReportSegment } from '../../report.js';
import { html, type Markup, NOTHING } from './markup.js';
import type { Page } from './model.js';
import { bullets, facts, folded, numberColumn, table } from './table.js';

/** Devices that could be moved instead; to a segment that may be anywhere only where no supplies serve. */
export function moves(segment: ReportSegment, page: Page): Markup {
  const { moves: of, choice } = segment.proposal;
  if (of === null || (of.nearness === 'electrically possible' && choice !== null)) return NOTHING;
  const { texts, figures } = page;
  const { proposals } = texts;
  const remarks = [
    ...(of.isLeast ? [] : [proposals.fewer]),
    ...(of.isVoltageOpen ? [proposals.voltageOpen] : []),
    ...of.conditions,
  ];
  return html`<h4>${proposals.moves}</h4>
${facts([
  [proposals.movesTo, page.link(of.to)],
  [proposals.moved, proposals.movedText({ devices: of.devices.length, current: figures.ma(of.movedMa) })],
  [proposals.nearness, texts.names.nearness[of.nearness]],
  [proposals.sharedPlaces, of.sharedPlaces.join(', ')],
  [
    proposals.movedAssumed,
    of.assumedDevices > 0 && proposals.movedText({ devices: of.assumedDevices, current: figures.ma(of.assumedMa) }),
  ],
  [proposals.leftHere, figures.ma(of.leftMa)],
  [proposals.leftThere, figures.ma(of.leftThereMa)],
])}${remarks.length > 0 && bullets(remarks)}${deviceList(segment, of, page)}`;
}

type Moves = NonNullable<ReportSegment['proposal']['moves']>;

function deviceList(segment: ReportSegment, { devices, to }: Moves, page: Page): Markup {
  const { proposals, columns } = page.texts;
  const moved = new Set(devices);
  const caption = proposals.movedTable({ from: page.labelOf(segment.id), to: page.labelOf(to) });
  const list = table<ReportDevice>({
    caption,
    columns: [
      { heading: columns.name, cell: ({ name }) => name },
      { heading: columns.address, cell: ({ address }) => address },
      { heading: columns.place, cell: ({ location }) => location },
      numberColumn(page.figures, [columns.current, 'mA'], ({ currentMa }) => currentMa),
    ],
    isHeaded: true,
    rows: segment.devices.filter(({ id }) => moved.has(id)),
  });
  return folded(caption, list);
}
