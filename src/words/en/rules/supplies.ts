import type { AssumedPart, Charged } from '../../facts.js';
import { assumedRemark, chargedText, count, figures } from '../sentences.js';

const { milliamps, list } = figures;

/** Rules about which supplies stand where, and what they may do together. */
export const supplyRules = {
  'supply-rating-unknown': {
    title: 'The product of a supply declares no rating',
    why: 'What a supply can deliver is half of the balance; without it no one can say that the segment is fed.',
    remedy: 'Take the rating from the data sheet of the supply.',
    limit: 'every supply declares a rating of 25 mA or more',
    source: 'volume 9/2 §6: 25 mA is the smallest supply; a smaller value counts as not declared',
    message: (f: {
      segment: string;
      supply: string;
      product: string;
      declared: string | null;
      loadMa: number;
      verdict: string;
    }) =>
      `The supply ${f.supply} on line ${f.segment} (${f.product}) declares ${f.declared === null ? 'no rating' : `"${f.declared}", which is no rating`}; the segment draws ${milliamps(f.loadMa)}${f.verdict === 'sufficient' ? ', which the other supplies carry' : ''}.`,
    advice: (f: { product: string; loadMa: number }) =>
      `Take the rating from the data sheet of ${f.product} and hold it against ${milliamps(f.loadMa)}.`,
  },
  'feed-unknown': {
    title: 'Which supply feeds the segment is not known',
    why: 'A choke draws from the unchoked output of a supply elsewhere, and both segments then share that supply’s rating. The export does not say which supply it is.',
    remedy:
      'Find the supply that the choke is wired to, and name it in the site sheet (fedBy); both loads are then held together against its rating.',
    limit: 'bus load + auxiliary load ≤ rating of the supply',
    source: 'common practice, no source: the unchoked output shares the rating',
    message: (f: {
      segment: string;
      cause: 'choke' | 'tangled' | 'supply gone';
      loadMa: number;
      chokes: readonly string[];
    }) => {
      if (f.cause === 'tangled') {
        return `Line ${f.segment} shares its supplies with others that share theirs: more than 10 supplies in one group, which is more than can be told apart.`;
      }
      if (f.cause === 'supply gone') {
        return `The site sheet names a supply that is gone as what feeds line ${f.segment}; what feeds its ${milliamps(f.loadMa)} now is not known.`;
      }
      return `Line ${f.segment} draws ${milliamps(f.loadMa)} through ${list(f.chokes)}, and no supply stands on it; which supply feeds the choke is not known.`;
    },
    advice: (f: { segment: string; cause: 'choke' | 'tangled' | 'supply gone'; loadMa: number }) => {
      if (f.cause === 'tangled') {
        return 'Check the site sheet (fedBy): a supply feeds one segment, or two through its outputs. If it is so, part the group.';
      }
      if (f.cause === 'supply gone') {
        return `Name in the site sheet what feeds line ${f.segment} now (fedBy), or take fedBy away if it is the supplies that stand on it.`;
      }
      return `Follow the wires of the choke to its supply, and name it in the site sheet as what feeds line ${f.segment} (fedBy): ${milliamps(f.loadMa)} plus that supply’s own segment are then held against its rating.`;
    },
  },
  'too-many-supplies': {
    title: 'More supplies than a segment may have',
    why: 'Each central supply brings a choke; more than two load the signals so that telegrams are lost, and their ratings do not add up.',
    remedy: 'Keep at most two central supplies, or split the segment.',
    limit: 'at most 2 central supplies, at most 8 decentral ones (up to 80 mA)',
    source: 'volume 3/2/2; volume 9/2 §2.11 and §6',
    message: (f: { segment: string; central: number; decentral: number; supplies: readonly string[] }) =>
      `Line ${f.segment} has ${f.central} central and ${f.decentral} decentral supplies (${list(f.supplies)}); 2 and 8 are allowed.`,
    advice: () => 'Take the surplus supplies off the segment, or give them segments of their own behind a coupler.',
  },
  'short-circuit-sum': {
    title: 'The short-circuit currents of the supplies add up to too much',
    why: 'Devices and cable are built for a bounded fault current; beyond it a short circuit can do damage before the supplies switch off.',
    remedy:
      'Use supplies whose short-circuit currents stay within the sum, such as two of 640 mA, or split the segment.',
    limit: 'short-circuit currents on an electrical segment together ≤ 3 A',
    source: 'volume 9/2 figure 3 and §2.11, applied to the electrical segment (derived here)',
    message: (f: { segment: string; ratingsMa: readonly (number | null)[]; sumMa: number }) =>
      `The supplies of line ${f.segment} (${f.ratingsMa.map((ma) => (ma === null ? 'unrated' : milliamps(ma))).join(' + ')}) may drive up to ${milliamps(f.sumMa)} into a short circuit; 3000 mA are allowed.`,
    advice: () =>
      'Two supplies of up to 640 mA stay within the sum, larger ones stand alone: change the supplies or split the segment. The short-circuit currents of the data sheets decide.',
  },
  'supply-not-redundant': {
    title: 'A critical segment does not outlast the failure of a supply or a mains circuit',
    why: 'What must run on when a supply fails needs a second one that carries all of the load, and that the same tripped breaker does not take with it.',
    remedy:
      'Feed the segment from two supplies, each of which carries its load, on two mains circuits or backed by a battery.',
    limit:
      'load ≤ what is left without any one supply, and without any one mains circuit unless a battery carries it; at least 2 mains circuits',
    source: 'common practice, no source: redundant is on two mains circuits, or with a battery',
    message: (
      f: Charged &
        AssumedPart & {
          leftMa: number | null;
          lackingMa: number | null;
          without: string;
          supplies: number;
          failed: readonly string[];
        },
    ) => {
      if (f.leftMa === null) {
        return `All supplies of line ${f.segment} are on one mains circuit, and no battery carries them: at least two circuits are wanted, as the segment is critical.`;
      }
      const circuit = f.without === 'supply' ? '' : ', on one mains circuit,';
      const without = f.supplies === 1 ? 'its only supply' : `${list(f.failed)}${circuit}`;
      return `${chargedText(f)}; without ${without} ${milliamps(f.leftMa)} are left: ${milliamps(f.lackingMa ?? 0)} too little for a critical segment.${assumedRemark(f)}`;
    },
    advice: (f: { leftMa: number | null; without: string; loadMa: number }) => {
      if (f.leftMa === null) return 'Put one of the supplies on another mains circuit, or back them with a battery.';
      return f.without === 'supply'
        ? `Fit the supplies so that ${milliamps(f.loadMa)} are left whichever of them fails; mind the sum of the short-circuit currents and the distance between chokes.`
        : `Spread the supplies over the mains circuits so that ${milliamps(f.loadMa)} are left whichever of these fails, or back them with a battery.`;
    },
  },
  'supply-not-reporting': {
    title: 'A supply does not report its state, although it should',
    why: 'A supply that takes part on the bus tells its voltage, current and temperature before the segment fails; any other is silent until it does.',
    remedy: 'Fit a supply that reports, or take back that the segment wants one.',
    limit: 'every supply of a segment reports, where the site sheet wants it',
    source: 'common practice, no source: reporting supplies for large or monitored buildings',
    message: (f: { segment: string; supplies: number; reporting: number; silent: readonly string[] }) =>
      `Line ${f.segment} is to have supplies that report, but of ${count(f.supplies, 'supply', 'supplies')} ${f.reporting === 0 ? 'none does' : `only ${f.reporting} ${f.reporting === 1 ? 'does' : 'do'}`}: ${list(f.silent)} ${f.silent.length === 1 ? 'does' : 'do'} not take part on the bus.`,
    advice: (f: { silent: readonly string[] }) =>
      `Replace ${list(f.silent)} by ${f.silent.length === 1 ? 'a supply that reports' : 'supplies that report'}, of the same rating or more.`,
  },
  'supply-on-unpowered-medium': {
    title: 'A bus supply on a medium that carries no power',
    why: 'Radio, powerline and IP need no bus supply. One that stands there in the project is missing where it is really fitted, or is ordered for nothing.',
    remedy: 'Move the supply to the segment that it feeds, or take it out of the project.',
    limit: 'supplies stand on twisted pair only',
    source: 'from memory, not confirmed: of the media of the interchange form only twisted pair carries power',
    message: (f: { segment: string; medium: string; supplies: readonly string[] }) =>
      `Line ${f.segment} is ${f.medium} and carries no bus power, but ${list(f.supplies)} stands on it.`,
    advice: () => 'Enter the supply on the twisted-pair segment that it is wired to, or strike it from the order.',
  },
};
