import { MOST_SHARED_SUPPLIES } from '../electrical/feed-group.js';
import { deviceLabel, type Segment, segmentLabel } from '../plant/plant.js';
import { loadFacts, loadMeasure, noPower, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { list, milliamps, segmentSubject } from './words.js';

export const feedUnknown = segmentRule({
  id: 'feed-unknown',
  title: 'Which supply feeds the segment is not known',
  severity: 'error',
  why: 'A choke draws from the unchoked output of a supply elsewhere, and both segments then share that supply’s rating. The export does not say which supply it is.',
  remedy:
    'Find the supply that the choke is wired to, and name it in the site sheet (fedBy); both loads are then held together against its rating.',
  limit: 'bus load + auxiliary load ≤ rating of the supply',
  basis: 'common practice',
  source: 'common practice, no source: the unchoked output shares the rating',
  missing: noPower,
  *check(balance) {
    const { segment } = balance;
    if (!balance.isFeedUnknown || segment.loads.length === 0) return;
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: { ...loadMeasure(balance.load, null), limit: null },
      restsOn: restsOn(balance),
      facts: {
        ...loadFacts(balance),
        segment: segmentLabel(segment),
        chokes: segment.chokes.map(deviceLabel),
        cause: causeOf(segment),
      },
    };
  },
  message: (f) => {
    if (f.cause === 'tangled') {
      return `Line ${f.segment} shares its supplies with others that share theirs: more than ${MOST_SHARED_SUPPLIES} supplies in one group, which is more than can be told apart.`;
    }
    if (f.cause === 'supply gone') {
      return `The site sheet names a supply that is gone as what feeds line ${f.segment}; what feeds its ${milliamps(f.loadMa)} now is not known.`;
    }
    return `Line ${f.segment} draws ${milliamps(f.loadMa)} through ${list(f.chokes)}, and no supply stands on it; which supply feeds the choke is not known.`;
  },
  advice: (f) => {
    if (f.cause === 'tangled') {
      return 'Check the site sheet (fedBy): a supply feeds one segment, or two through its outputs. If it is so, part the group.';
    }
    if (f.cause === 'supply gone') {
      return `Name in the site sheet what feeds line ${f.segment} now (fedBy), or take fedBy away if it is the supplies that stand on it.`;
    }
    return `Follow the wires of the choke to its supply, and name it in the site sheet as what feeds line ${f.segment} (fedBy): ${milliamps(f.loadMa)} plus that supply’s own segment are then held against its rating.`;
  },
});

function causeOf({ feed, supplies }: Segment): 'choke' | 'tangled' | 'supply gone' {
  if (feed === 'unknown') return 'supply gone';
  return supplies.length > 0 ? 'tangled' : 'choke';
}
