import type { PlaceFacts, Source, TurnFacts } from '../../facts.js';
import { MOST_LISTED } from '../../figures.js';
import { count, figures, placesText } from '../sentences.js';

const { milliamps, list } = figures;

/** Rules about what products declare. */
export const productRules = {
  'current-not-declared': {
    title: 'A product does not declare its current',
    why: 'Nothing that is audited says what the device draws, so the balance rests on a rule of thumb. Displays and gateways draw several times that.',
    remedy: 'Look the current up in the data sheet of the product.',
    limit:
      'every participant on twisted pair declares its current; 10 mA (unless the policy says otherwise) are assumed where it does not',
    source: 'common practice, no source: the rule of thumb',
    message: (f: {
      product: string;
      isUpperSide: boolean;
      assumedMa: number;
      devices: number;
      places: readonly PlaceFacts[];
    }) =>
      f.isUpperSide
        ? `${f.product}, a supply and coupler in one, declares its rating but not what it draws from the line above; ${milliamps(f.assumedMa)} are assumed for each (${placesText(f.places)}).`
        : `${f.product} does not declare its current; ${milliamps(f.assumedMa)} are assumed for ${f.devices === 1 ? '' : 'each of '}${count(f.devices, 'device')} (${placesText(f.places)}).`,
    advice: (f: { product: string }, source: Source = 'archive') =>
      source === 'plan'
        ? `Take the bus current of ${f.product} from the data sheet of what is to be ordered, and enter it in the plan.`
        : `Take the bus current of ${f.product} from its data sheet.`,
  },
  'current-implausible': {
    title: 'A product declares a current that is hard to believe',
    why: 'Some products declare 0 because another source powers them, some because nobody filled it in; a negative or very high value is a slip. A verdict may hang on it.',
    remedy: 'Check the declared current against the data sheet of the product.',
    limit: 'a participant with an address draws more than 0 and at most 100 mA (unless the policy says otherwise)',
    source:
      'common practice, no source: real devices draw 2.5 to 60 mA; the greatest plausible current is the policy’s',
    message: (f: {
      product: string;
      doubt: 'zero' | 'negative' | 'unreadable' | 'too high';
      declared: string;
      devices: number;
      places: readonly PlaceFacts[];
      chargedMa: number;
    }) => {
      const doubts = {
        zero: 'that it draws nothing from the bus',
        negative: 'a negative current',
        unreadable: 'a current that is no usable number',
        'too high': 'an unusually high current',
      };
      return `${f.product} declares ${doubts[f.doubt]} (“${f.declared}” mA); ${count(f.devices, 'device')} (${placesText(f.places)}), charged with ${milliamps(f.chargedMa)}${f.devices === 1 ? '' : ' each'}.`;
    },
    advice: (f: { turns: readonly TurnFacts[]; devices: number }) =>
      `Check it in the data sheet.${turnsText(f.turns, f.devices)}`,
  },
  'product-not-in-archive': {
    title: 'The archive does not hold the product of a device',
    why: 'Without its product data nothing is known of the device: neither what it draws nor whether it is a supply.',
    remedy: 'Export the project again with its product data, or look the device up.',
    limit:
      'every device on twisted pair has its product in the archive; 10 mA (unless the policy says otherwise) are assumed where it has not',
    source: 'common practice, no source: the rule of thumb',
    message: (f: { productId: string; devices: number; places: readonly PlaceFacts[]; assumedMa: number }) =>
      `${f.productId === '' ? 'No product is named' : `The product ${f.productId} is not in the archive`} for ${count(f.devices, 'device')} (${placesText(f.places)}); ${milliamps(f.assumedMa)} are assumed${f.devices === 1 ? '' : ' for each'}.`,
    advice: () =>
      'Export the project again together with its product data. If it still is missing, identify the devices on site and take their current from the data sheet.',
  },
};

function turnsText(turns: readonly TurnFacts[], devices: number): string {
  const each = devices === 1 ? '' : ' each';
  const known = turns.filter(({ toTightMa, toInsufficientMa }) => toTightMa !== null || toInsufficientMa !== null);
  if (known.length === 0) return '';
  const parts = known.map(({ segment, toTightMa, toInsufficientMa }) => {
    const bounds = [
      toTightMa === null ? '' : `the target up to ${milliamps(toTightMa)}${each}`,
      toInsufficientMa === null ? '' : `the rating up to ${milliamps(toInsufficientMa)}${each}`,
    ];
    return `line ${segment} stays within ${bounds.filter(Boolean).join(', within ')}`;
  });
  return ` What it would take to turn the verdict: ${list(parts, MOST_LISTED, (n) => count(n, 'more line'))}.`;
}
