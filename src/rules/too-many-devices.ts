import { segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const tooManyDevices = segmentRule({
  id: 'too-many-devices',
  severity: 'error',
  basis: 'standard',
  missing: noBoundaries,
  *check({ segment, placesUsed }, { policy, words }) {
    if (placesUsed <= policy.devicesClassic) return;
    const isImpossible = placesUsed > policy.devicesGreatest;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: words.facts.quantities.participants,
        unit: 'participants',
        value: placesUsed,
        limit: isImpossible ? policy.devicesGreatest : policy.devicesClassic,
        holds: 'at most',
        setBy: isImpossible ? 'devicesGreatest' : 'devicesClassic',
      },
      restsOn: 'declared',
      severity: isImpossible ? 'error' : 'note',
      facts: {
        segment: segmentLabel(segment),
        participants: placesUsed,
        most: isImpossible ? policy.devicesGreatest : policy.devicesClassic,
        isImpossible,
      },
    };
  },
});
