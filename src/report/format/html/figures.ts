import type { Words } from '../../../words/words.js';

/** Figures as the page sets them: those of the language, with their units and signs. */
export class PageFigures {
  readonly #words: Words;

  constructor(words: Words) {
    this.#words = words;
  }

  readonly number = (value: number): string => this.#words.figures.number(value);

  /** With its sign in any case. */
  readonly signed = (value: number): string => `${value > 0 ? '+' : ''}${this.number(value)}`;

  /** Money, to the hundredth. */
  readonly price = (value: number): string => {
    const [whole, decimals] = value.toFixed(2).split('.');
    return `${whole}${this.#words.figures.number(0.5).charAt(1)}${decimals}`;
  };

  readonly percent = (ratio: number): string => this.#words.figures.percent(ratio);

  readonly ma = (value: number): string => this.withUnit(value, 'mA');

  readonly volts = (value: number): string => this.withUnit(value, 'V');

  readonly withUnit = (value: number, unit: string): string => `${this.number(value)} ${unit}`;

  /** Nothing where there is no figure. */
  readonly orNothing = (value: number | null, unit: string): string =>
    value === null ? '' : this.withUnit(value, unit);

  /** `80 to 120 m`, `120 m` where both are the same, `at least 80 m` where one is not known, and words where neither is. */
  readonly between = (low: number | null, high: number | null, unit: string): string => {
    const { names, page } = this.#words;
    if (low === null)
      return high === null ? page.frame.notKnown : `${names.holds['at most']} ${this.withUnit(high, unit)}`;
    if (high === null) return `${names.holds['at least']} ${this.withUnit(low, unit)}`;
    if (low === high) return this.withUnit(low, unit);
    return `${page.frame.range({ low: this.number(low), high: this.number(high) })} ${unit}`;
  };
}
