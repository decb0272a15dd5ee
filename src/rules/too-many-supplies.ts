import { CENTRAL_SUPPLIES, DECENTRAL_SUPPLIES } from '../electrical/standard.js';
import { deviceLabel, segmentLabel } from '../plant/plant.js';
import { noBoundaries } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const tooManySupplies = segmentRule({
  id: 'too-many-supplies',
  severity: 'error',
  basis: 'standard',
  missing: noBoundaries,
  *check({ segment, capacity }, { words }) {
    const { quantities } = words.facts;
    if (!capacity.tooMany) return;
    const isCentral = capacity.central > CENTRAL_SUPPLIES;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: {
        quantity: isCentral ? quantities.centralSupplies : quantities.decentralSupplies,
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
});
