import { count, figures } from '../sentences.js';

const { milliamps, number } = figures;

/** The card of a segment. */
export const segments = {
  heading: 'Segments',
  title: (f: { segment: string; name: string }) => `Segment ${f.segment}${f.name === '' ? '' : `, ${f.name}`}`,
  figures: 'Load and supply',
  medium: 'Medium',
  load: 'Load',
  capacity: 'The supplies may give',
  ratings: 'Ratings',
  target: 'Target',
  share: 'Share',
  headroom: 'Headroom to the target',
  room: 'Room for devices',
  /** Fewer than the current would feed are left where the segment has no more places. */
  roomText: (f: { devices: number; eachMa: number; byCurrent: number }) =>
    `${count(f.devices, 'device')} of ${milliamps(f.eachMa)}${f.byCurrent > f.devices ? `: the places left bound it, the current would do for ${f.byCurrent}` : ''}`,
  planned: 'Planned and not there yet',
  couplersBelow: 'Couplers of lines below',
  auxiliary: 'Drawn beside the bus',
  assumed: 'Assumed',
  assumedText: (f: { assumedMa: number; items: number }) => `${milliamps(f.assumedMa)} for ${count(f.items, 'item')}`,
  breakEven: 'The verdict turns if each assumed item draws',
  breakEvenText: (f: { toTightMa: number | null; toInsufficientMa: number | null }) =>
    [
      f.toTightMa === null ? '' : `${milliamps(f.toTightMa)} (tight)`,
      f.toInsufficientMa === null ? '' : `${milliamps(f.toInsufficientMa)} (insufficient)`,
    ]
      .filter(Boolean)
      .join(', '),
  bounds: 'Load at the bounds of what is assumed',
  withoutLargest: 'Left if the largest supply fails',
  shortCircuit: 'Short-circuit currents together',
  suggested: 'Smallest rating in stock that carries it',
  shared: 'Supplies shared with',
  chokes: 'Chokes',
  feedUnknown: 'Which supply feeds the segment is not known.',
  fanIn: 'Count of the standard',
  fanInText: (f: { classSumMa: number; nominalMa: number | null; weight: number }) =>
    `current classes ${milliamps(f.classSumMa)}${f.nominalMa === null ? '' : ` of ${milliamps(f.nominalMa)}`}, device weights ${f.weight}`,
  reach: 'Cable that the load allows',
  reachText: (f: { supplyV: number; dropV: number; atEndM: number; spreadM: number; isDistance: boolean }) => {
    const lengths = `${number(f.atEndM)} m with all load at the end, ${number(f.spreadM)} m evenly spread`;
    const length = f.isDistance ? `${number(f.atEndM)} m, the greatest distance, wherever the load is` : lengths;
    const less = f.dropV === 0 ? '' : ` less ${number(f.dropV)} V at the choke`;
    return `${length} (supply at ${number(f.supplyV)} V${less})`;
  },
  supplies: (segment: string) => `Supplies of ${segment}`,
  groups: 'Load by product group',
  groupsTitle: (segment: string) => `Load by product group of ${segment}`,
  groupsDescription:
    'A bar for each product, the greatest load first, and for what is drawn beside the bus, filled by the origin of the currents as the strips of the plant are.',
  groupsTable: (segment: string) => `Products on ${segment} and their load`,
  noProduct: 'product not in the archive',
  otherProducts: (products: number) => count(products, 'other product'),
  deviceTable: (segment: string) => `Devices of ${segment}`,
  devicesFolded: (devices: number) => `${count(devices, 'device')} and the origin of each current`,
  noDevices: 'Nothing stands on this segment.',
  noLoad: 'no load here',
  findings: 'Findings of this segment',
  noFindings: 'No findings.',
  proposal: 'Proposal',
  notes: 'What was taken because the export does not say it',
};
