import { MOST_SHARED_SUPPLIES } from '../electrical/feed-group.js';
import { deviceLabel, segmentLabel } from '../plant/plant.js';
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
        isTangled: segment.supplies.length > 0,
      },
    };
  },
  message: (f) =>
    f.isTangled
      ? `Line ${f.segment} shares its supplies with others that share theirs: more than ${MOST_SHARED_SUPPLIES} supplies in one group, which is more than can be told apart.`
      : `Line ${f.segment} draws ${milliamps(f.loadMa)} through ${list(f.chokes)}, and no supply stands on it; which supply feeds the choke is not known.`,
  advice: (f) =>
    f.isTangled
      ? 'Check the site sheet (fedBy): a supply feeds one segment, or two through its outputs. If it is so, part the group.'
      : `Follow the wires of the choke to its supply, and name it in the site sheet as what feeds line ${f.segment} (fedBy): ${milliamps(f.loadMa)} plus that supply’s own segment are then held against its rating.`,
});
