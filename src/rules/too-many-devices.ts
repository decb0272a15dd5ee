import { segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const tooManyDevices = segmentRule({
  id: 'too-many-devices',
  title: 'More participants than a segment may have',
  severity: 'error',
  why: 'Each participant loads the line with its transceiver. The classic device type allows 64 on a segment, the newer one 256.',
  remedy: 'Split the segment, or make sure from the data sheets that every device on it is of the newer type.',
  limit:
    '64 participants of the classic type (a note above), 256 of the newer type (an error above), unless the policy says otherwise',
  basis: 'standard',
  source: 'volume 3/2/2',
  missing: noBoundaries,
  *check({ segment, placesUsed }, { policy }) {
    if (placesUsed <= policy.devicesClassic) return;
    const isImpossible = placesUsed > policy.devicesGreatest;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: 'participants',
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
  message: (f) =>
    `Line ${f.segment} has ${f.participants} participants; ${f.isImpossible ? `no device type allows more than ${f.most}` : `with a device of the classic type on it, ${f.most} are allowed`}.`,
  advice: (f) =>
    f.isImpossible
      ? `Split the segment so that no part has more than ${f.most} participants.`
      : 'Check on the data sheets that every device is of the newer type, or split the segment.',
});
