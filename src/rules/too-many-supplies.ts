import { CENTRAL_SUPPLIES, DECENTRAL_SUPPLIES } from '../electrical/standard.js';
import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { list, segmentSubject } from './words.js';

export const tooManySupplies = segmentRule({
  id: 'too-many-supplies',
  title: 'More supplies than a segment may have',
  severity: 'error',
  why: 'Each central supply brings a choke; more than two load the signals so that telegrams are lost, and their ratings do not add up.',
  remedy: 'Keep at most two central supplies, or split the segment.',
  limit: 'at most 2 central supplies, at most 8 decentral ones (up to 80 mA)',
  basis: 'standard',
  source: 'volume 3/2/2; volume 9/2 §2.11 and §6',
  missing: noBoundaries,
  *check({ segment, capacity }) {
    if (!capacity.tooMany) return;
    const isCentral = capacity.central > CENTRAL_SUPPLIES;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: isCentral ? 'central supplies' : 'decentral supplies',
        unit: 'supplies',
        value: isCentral ? capacity.central : capacity.decentral,
        limit: isCentral ? CENTRAL_SUPPLIES : DECENTRAL_SUPPLIES,
        holds: 'at most',
      },
      restsOn: 'declared',
      facts: {
        segment: segmentLabel(segment),
        central: capacity.central,
        decentral: capacity.decentral,
        supplies: segment.supplies.map(({ device }) => deviceLabel(device)),
      },
    };
  },
  message: (f) =>
    `Line ${f.segment} has ${f.central} central and ${f.decentral} decentral supplies (${list(f.supplies)}); ${CENTRAL_SUPPLIES} and ${DECENTRAL_SUPPLIES} are allowed.`,
  advice: () => 'Take the surplus supplies off the segment, or give them segments of their own behind a coupler.',
});
