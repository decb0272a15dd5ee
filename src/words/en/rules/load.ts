import type { AssumedPart, Charged, Source, Wanted } from '../../facts.js';
import { assumedRemark, chargedText, count, figures, supplyAdvice } from '../sentences.js';

const { milliamps, percent } = figures;

type Loaded = Charged & AssumedPart & Wanted;

/** Rules about load and rating. */
export const loadRules = {
  'overloaded-segment': {
    title: 'The load is above the rating of the supplies',
    why: 'A supply beyond its rating lets the bus voltage fall; devices reset, lose telegrams or stay silent, first under load and far from the supply.',
    remedy: 'Fit a larger supply, split the segment, or move devices to a segment with room.',
    limit: 'load ≤ sum of the ratings of the supplies',
    source: 'volume 4/1 §2.7, volume 9/2 §2.11; ratings by the data sheet',
    message: (
      f: Loaded & { supplies: number; ratedMa: number; excessMa: number; share: number; boundariesKnown: boolean },
    ) => {
      const together = f.boundariesKnown ? 'together' : 'even all together';
      const rated = milliamps(f.ratedMa);
      const supplies =
        f.supplies === 1 ? `its supply is rated ${rated}` : `its supplies are rated ${rated} ${together}`;
      return `${chargedText(f)}; ${supplies}: ${milliamps(f.excessMa)} too much (${percent(f.share)}).${assumedRemark(f)}`;
    },
    advice: (f: Wanted & { excessMa: number; overTargetMa: number | null; boundariesKnown: boolean }) =>
      f.boundariesKnown
        ? `Replace or split: ${supplyAdvice(f)}. Or move devices to a segment with room: ${milliamps(f.excessMa)} of load to come down to the rating${f.overTargetMa === null ? '' : `, ${milliamps(f.overTargetMa)} to the target`}.`
        : 'Find out which devices hang on which side of the repeaters, then size each side by itself.',
  },
  'auxiliary-overload': {
    title: 'The bus fits the supply, but not together with what its auxiliary output feeds',
    why: 'The unchoked output shares the rating with the bus: what is drawn there is missing here, and the bus voltage falls although the bus load is within the rating.',
    remedy: 'Feed the auxiliary load from a supply of its own, or fit a larger supply.',
    limit: 'bus load + auxiliary load ≤ sum of the ratings of the supplies',
    source: 'common practice, no source: the unchoked output shares the rating',
    message: (f: Loaded & { ratedMa: number; excessMa: number; share: number; busMa: number }) =>
      `${chargedText(f)}; its supplies are rated ${milliamps(f.ratedMa)}: ${milliamps(f.excessMa)} too much (${percent(f.share)}). The bus alone, ${milliamps(f.busMa)}, would fit.${assumedRemark(f)}`,
    advice: (f: Wanted & { auxiliaryMa: number }) =>
      `Feed the ${milliamps(f.auxiliaryMa)} beside the bus from a supply of their own, or change the supply: ${supplyAdvice(f)}.`,
  },
  'missing-supply': {
    title: 'Bus-powered devices, and no supply on the segment',
    why: 'Without a supply the segment is dead. A supply is easily forgotten, as it often has no address.',
    remedy: 'Order a supply for the segment; if one is there or planned already, enter it.',
    limit: 'every electrical segment with bus-powered devices or couplers has a supply',
    source: 'volume 3/2/2 §1.3.2: each segment has its own supply',
    message: (f: {
      segment: string;
      items: number;
      loadMa: number;
      couplersFromBelow: number;
      unknownProducts: number;
    }) => {
      const couplers =
        f.couplersFromBelow === 0 ? '' : ` (${count(f.couplersFromBelow, 'coupler')} of lines below among them)`;
      return `Line ${f.segment} has no supply for ${count(f.items, 'participant')}${couplers} that ${f.items === 1 ? 'draws' : 'draw'} ${milliamps(f.loadMa)}.${unknownText(f.unknownProducts)}`;
    },
    advice: (f: Wanted & { unknownProducts: number; boundariesKnown: boolean }, source: Source = 'archive') => {
      const first = f.unknownProducts > 0 ? 'Export the project again with its product data first. ' : '';
      if (source === 'plan')
        return `${first}Order one: ${supplyAdvice(f)}. If one is foreseen already, enter it in the plan.`;
      return f.boundariesKnown
        ? `${first}Order one: ${supplyAdvice(f)}. If one is fitted already, enter it in the project.`
        : `${first}Find out where the electrical segments are, and order a supply for each. If they are fitted already, enter them in the project.`;
    },
  },
  'low-headroom': {
    title: 'The load is above the target share of the rating',
    why: 'A supply is planned to about four fifths of its rating: a good working point, with room for devices that are added later.',
    remedy: 'Fit the next larger supply before the segment is extended, or keep its load as it is on purpose.',
    limit: 'load ≤ target share (80 % unless the policy says otherwise) × sum of the ratings',
    source: 'common practice, no source; the target is the policy’s',
    message: (f: Loaded & { share: number; ratedMa: number; targetMa: number; excessMa: number }) =>
      `${chargedText(f)}, ${percent(f.share)} of ${milliamps(f.ratedMa)}; the target is ${milliamps(f.targetMa)}, exceeded by ${milliamps(f.excessMa)}.${assumedRemark(f)}`,
    advice: (f: Wanted) => `Before anything is added: ${supplyAdvice(f)}.`,
  },
  'growth-exceeds-supply': {
    title: 'What is planned for the segment does not fit its supply',
    why: 'A supply that is just right today is changed again when the planned devices come, with the mains switched off once more.',
    remedy: 'Order the supply that carries the planned devices as well, or plan them on a segment with room.',
    limit: 'load + planned devices and reserve ≤ target share × sum of the ratings',
    source: 'common practice, no source; what is planned and the target are the policy’s',
    message: (f: {
      segment: string;
      loadMa: number;
      plannedMa: number;
      plannedDevices: number;
      excessMa: number;
      targetMa: number;
    }) =>
      `Line ${f.segment} carries ${milliamps(f.loadMa)} today; with ${milliamps(f.plannedMa)} planned${f.plannedDevices > 0 ? ` (${count(f.plannedDevices, 'device')})` : ''} it is ${milliamps(f.excessMa)} above the target of ${milliamps(f.targetMa)}.`,
    advice: (f: { suggestedRatingMa: number | null }) =>
      `Order for what is planned: ${supplyAdvice({ ...f, plannedMa: 0 })}.`,
  },
  'fan-in-exceeded': {
    title: 'The standard’s fan-in count is exceeded',
    why: 'The standard counts in classes, each current rounded up, and asks that their sum stay below the nominal current; and it weighs each device. Both are stricter than the plain sum.',
    remedy: 'Lower the load or the number of devices, or accept it: the plain sum is what the supply feels.',
    limit: 'sum of current classes < nominal current; sum of weights < 257 (4 per device of the classic type)',
    source: 'volume 4/1 §2.7',
    message: (f: {
      segment: string;
      currentExceeded: boolean;
      classSumMa: number;
      nominalMa: number | null;
      weightExceeded: boolean;
      weight: number;
    }) => {
      const reasons = [
        f.currentExceeded
          ? `the current classes add up to ${milliamps(f.classSumMa)}, not below the nominal ${milliamps(f.nominalMa ?? 0)}`
          : '',
        f.weightExceeded ? `the weights add up to ${f.weight}, not below 257` : '',
      ];
      return `On line ${f.segment} ${reasons.filter(Boolean).join(', and ')}.`;
    },
    advice: () => 'Where the standard’s count has to be met, split the segment or fit a larger supply.',
  },
  'oversized-supply': {
    title: 'The supply is two stock sizes above what would do',
    why: 'It costs money, rail width and standby loss. It may be on purpose, for devices that are still to come.',
    remedy: 'Order the smaller one, or keep it where the segment will grow.',
    limit: 'a single supply is less than two stock sizes above the smallest that carries the load within the target',
    source: 'common practice, no source; the stock sizes are the policy’s',
    message: (f: { segment: string; ratedMa: number; loadMa: number; suggestedRatingMa: number }) =>
      `The supply of line ${f.segment} is rated ${milliamps(f.ratedMa)} for a load of ${milliamps(f.loadMa)}; ${milliamps(f.suggestedRatingMa)} would carry it within the target.`,
    advice: (f: { suggestedRatingMa: number }) =>
      `If the segment will not grow, order ${milliamps(f.suggestedRatingMa)} instead.`,
  },
};

/** What nobody knows could be anything, a supply as well. */
function unknownText(devices: number): string {
  if (devices === 0) return '';
  const which = devices === 1 ? '1 device here is of a product' : `${devices} devices here are of products`;
  return ` But ${which} that the archive does not hold, and may be the supply.`;
}
