import { type Device, deviceLabel, isBesideSegments, type Role, type Segment, segmentLabel } from '../plant/plant.js';
import type { Words } from '../words/words.js';
import { loadFacts, noPower, restsOn } from './judged.js';
import { type Measure, segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const segmentBoundariesUnknown = segmentRule({
  id: 'segment-boundaries-unknown',
  severity: 'error',
  basis: 'standard',
  missing: noPower,
  *check(balance, { words }) {
    const { segment } = balance;
    if (segment.boundariesKnown || segment.loads.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(segment, words),
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
function measureOf(segment: Segment, { facts: { quantities } }: Words): Measure {
  const holds = 'at most';
  if (causeOf(segment) === 'devices beside') {
    const value = strayOf(segment).length;
    return { quantity: quantities.besideSegments, unit: 'devices', value, limit: 0, holds };
  }
  const value = segment.loads.length;
  return { quantity: quantities.onNoSegment, unit: 'participants', value, limit: 0, holds };
}
