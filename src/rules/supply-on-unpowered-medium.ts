import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const supplyOnUnpoweredMedium = segmentRule({
  id: 'supply-on-unpowered-medium',
  severity: 'warning',
  basis: 'from memory',
  *check({ segment }, { words }) {
    if (segment.medium.needsPower || segment.supplies.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.supplies,
        unit: 'supplies',
        value: segment.supplies.length,
        limit: 0,
        holds: 'at most',
      },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        medium: words.names.medium(segment.medium.name),
        supplies: segment.supplies.map(({ device }) => deviceLabel(device)),
      },
    };
  },
});
