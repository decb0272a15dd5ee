import { deviceLabel, type Segment, segmentLabel } from '../plant/plant.js';
import { loadFacts, loadMeasure, noPower, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const feedUnknown = segmentRule({
  id: 'feed-unknown',
  severity: 'error',
  basis: 'common practice',
  missing: noPower,
  *check(balance, { words }) {
    const { segment } = balance;
    if (!balance.isFeedUnknown || segment.loads.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: { ...loadMeasure(balance.load, null, words), limit: null },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        chokes: segment.chokes.map(deviceLabel),
        cause: causeOf(segment),
      },
    };
  },
});

function causeOf({ feed, supplies }: Segment): 'choke' | 'tangled' | 'supply gone' {
  if (feed === 'unknown') return 'supply gone';
  return supplies.length > 0 ? 'tangled' : 'choke';
}
