import { percent } from '../units.js';

/** How a language writes figures and lists. */
export interface Figures {
  /** A number as people read it: `7.5` or `7,5`, with a true minus sign, which is as wide as a plus. */
  readonly number: (value: number) => string;
  /** A number with so many decimals: `0.50`. */
  readonly fixed: (value: number, decimals: number) => string;
  /** `540 mA`, `7.5 mA`. */
  readonly milliamps: (ma: number) => string;
  /** `27.85 V`. */
  readonly volts: (v: number) => string;
  /** A ratio in per cent, rounded up to a tenth: `84.4 %`. */
  readonly percent: (ratio: number) => string;
  /** A quantity as people have written it in a document, with a point: `88.5 %`, `88,5 %`. */
  readonly rewritten: (quantity: string) => string;
  /** `a`, `a and b`, `a, b and c`; beyond the most, `a, b and 4 more`, or what else is to be said of those left out. */
  readonly list: (items: readonly string[], most?: number, more?: (n: number) => string) => string;
}

/** How many of a list are told. */
export const MOST_LISTED = 6;

export interface FigureStyle {
  /** Before the decimals. */
  readonly mark: '.' | ',';
  readonly and: string;
  /** How many further ones of a list are left out. */
  readonly more: (n: number) => string;
}

/**
 * Written out plainly, as what the runtime's own formatting gives differs with the version of its tables: the same
 * report has to give the same bytes. Thousands are not grouped, so that a figure can be found again in any format.
 */
export function figuresIn({ mark, and, more }: FigureStyle): Figures {
  const marked = (text: string) => text.replace('.', mark).replace(/^-/, '−');
  const number = (value: number) => marked(String(value));
  return {
    number,
    fixed: (value, decimals) => marked(value.toFixed(decimals)),
    milliamps: (ma) => `${number(ma)} mA`,
    volts: (v) => `${number(v)} V`,
    percent: (ratio) => marked(percent(ratio)),
    rewritten: (quantity) => quantity.replace(/(?<=\d)\.(?=\d)/, mark),
    list: (items, most = MOST_LISTED, moreOf = more) => {
      const shown = items.length <= most ? items.slice(0, -1) : items.slice(0, most);
      const last = items.length <= most ? items.at(-1) : moreOf(items.length - most);
      return shown.length === 0 ? (last ?? '') : `${shown.join(', ')} ${and} ${last}`;
    },
  };
}
