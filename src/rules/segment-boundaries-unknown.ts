import { type Device, deviceLabel, isBesideSegments, type Role, type Segment, segmentLabel } from '../plant/plant.js';
import { loadFacts, noPower, restsOn } from './judged.js';
import { type Measure, segmentRule } from './rule.js';
import { count, list, segmentSubject } from './words.js';

export const segmentBoundariesUnknown = segmentRule({
  id: 'segment-boundaries-unknown',
  title: 'Which devices hang on which electrical segment is not in the export',
  severity: 'error',
  why: 'Repeaters cut a line into electrical segments, each with a supply of its own. This form of the export keeps the line as one, so no segment can be called fine.',
  remedy:
    'Place the devices on segments in the commissioning software and export the project in a schema with segments (21 or later), or say in the site sheet which device is on which (lines).',
  limit: 'every device is on one known electrical segment',
  basis: 'standard',
  source: 'volume 3/2/2 §1.3.2: up to four segments per line, each with its own supply',
  missing: noPower,
  *check(balance) {
    const { segment } = balance;
    if (segment.boundariesKnown || segment.loads.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(segment),
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        line: segment.line.address,
        cause: causeOf(segment),
        stray: strayOf(segment).map(deviceLabel),
        repeaters: segment.devices.filter(({ joins }) => joins === 'other segment').map(deviceLabel),
        supplies: segment.supplies.length,
      },
    };
  },
  message: (f) => {
    if (f.cause === 'beside the segments') {
      return `${count(f.items, 'participant')} ${f.items === 1 ? 'stands' : 'stand'} on line ${f.line} itself, beside its segments: ${list(f.stray)}; which segment they are on is not known.`;
    }
    if (f.cause === 'devices beside') {
      return `On line ${f.line} itself, beside its segments, ${f.stray.length === 1 ? 'stands' : 'stand'} ${list(f.stray)}; what of that is on line ${f.segment} is not known, so neither is its balance.`;
    }
    return `${count(f.repeaters.length, 'repeater')} (${list(f.repeaters)}) ${f.repeaters.length === 1 ? 'cuts' : 'cut'} line ${f.segment} into electrical segments; the export does not say on which of them its ${count(f.items, 'participant')} and ${count(f.supplies, 'supply', 'supplies')} stand.`;
  },
  advice: () =>
    'Open the project in a version of the commissioning software that knows segments, place the devices on them and export again; or say in the site sheet which device is on which segment (lines).',
});

/** Why the bounds are not known. */
function causeOf(segment: Segment): 'repeaters' | 'beside the segments' | 'devices beside' {
  if (isBesideSegments(segment)) return 'beside the segments';
  return segment.line.segments.length > 1 ? 'devices beside' : 'repeaters';
}

/** What stands on the line itself and could change the balance of any of its segments. */
function strayOf({ line }: Segment): Device[] {
  const beside = line.segments.filter(isBesideSegments).flatMap(({ devices }) => devices);
  return beside.filter(({ participates, role }) => participates || FEEDING.includes(role));
}

const FEEDING: readonly Role[] = ['supply', 'supply and coupler', 'choke'];

/** Of a segment whose own devices are placed, it is those beside it that are not. */
function measureOf(segment: Segment): Measure {
  const holds = 'at most';
  if (causeOf(segment) === 'devices beside') {
    const value = strayOf(segment).length;
    return { quantity: 'devices beside the segments', unit: 'devices', value, limit: 0, holds };
  }
  const value = segment.loads.length;
  return { quantity: 'participants on no known segment', unit: 'participants', value, limit: 0, holds };
}
