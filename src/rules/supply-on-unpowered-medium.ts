import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { segmentRule } from './rule.js';
import { list, segmentSubject } from './words.js';

export const supplyOnUnpoweredMedium = segmentRule({
  id: 'supply-on-unpowered-medium',
  title: 'A bus supply on a medium that carries no power',
  severity: 'warning',
  why: 'Radio, powerline and IP need no bus supply. One that stands there in the project is missing where it is really fitted, or is ordered for nothing.',
  remedy: 'Move the supply to the segment that it feeds, or take it out of the project.',
  limit: 'supplies stand on twisted pair only',
  basis: 'from memory',
  source: 'from memory, not confirmed: of the media of the interchange form only twisted pair carries power',
  *check({ segment }) {
    if (segment.medium.needsPower || segment.supplies.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: { quantity: 'supplies', unit: 'supplies', value: segment.supplies.length, limit: 0, holds: 'at most' },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        medium: segment.medium.name,
        supplies: segment.supplies.map(({ device }) => deviceLabel(device)),
      },
    };
  },
  message: (f) => `Line ${f.segment} is ${f.medium} and carries no bus power, but ${list(f.supplies)} stands on it.`,
  advice: () => 'Enter the supply on the twisted-pair segment that it is wired to, or strike it from the order.',
});
