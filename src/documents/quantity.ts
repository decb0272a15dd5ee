import { z } from 'zod';
import { UA_PER_MA } from '../units.js';
import type { Range } from './shape.js';

/**
 * Quantities as a person writes them, a number and its unit in one text: `40 m`, `0.04 km`. The result is a number in
 * one unit. A number alone is refused: nobody could tell what it counts.
 */

/** What one of each unit is, in the unit of the result. */
type Units = Readonly<Record<string, number>>;

interface Quantity {
  readonly units: Units;
  /** The unit in which {@link Range} is told. */
  readonly told: string;
  readonly example: string;
  /** Whole numbers of the result's unit. */
  readonly isWhole?: boolean;
}

/** In m. */
const LENGTH: Quantity = { units: { m: 1, km: 1000 }, told: 'm', example: '40 m' };
/** In whole µA. */
const CURRENT: Quantity = {
  units: { mA: UA_PER_MA, A: 1000 * UA_PER_MA },
  told: 'mA',
  example: '50 mA',
  isWhole: true,
};
/** In V. */
const VOLTAGE: Quantity = { units: { V: 1, mV: 0.001 }, told: 'V', example: '29.5 V' };
/** In hours. */
const TIME: Quantity = { units: { h: 1, min: 1 / 60 }, told: 'h', example: '4 h' };
/** In Ω; the sign of the unit and the Greek letter look alike. */
const RESISTANCE: Quantity = { units: { ohm: 1, Ω: 1, '\u2126': 1 }, told: 'ohm', example: '0.5 ohm' };
/** In Ω/km. */
const LOOP_RESISTANCE: Quantity = {
  units: { 'ohm/km': 1, 'Ω/km': 1, '\u2126/km': 1 },
  told: 'ohm/km',
  example: '72 ohm/km',
};
/** In °C. */
const TEMPERATURE: Quantity = { units: { '°C': 1, C: 1 }, told: '°C', example: '30 °C' };
/** In Ah. */
const CAPACITY: Quantity = { units: { Ah: 1, mAh: 0.001 }, told: 'Ah', example: '7.2 Ah' };
/** As a ratio. */
const SHARE: Quantity = { units: { '%': 0.01 }, told: '%', example: '85 %' };

const QUANTITIES = {
  length: LENGTH,
  current: CURRENT,
  voltage: VOLTAGE,
  time: TIME,
  resistance: RESISTANCE,
  loopResistance: LOOP_RESISTANCE,
  temperature: TEMPERATURE,
  capacity: CAPACITY,
  share: SHARE,
} as const;

/** Digits enough for anything on a site, and few enough to be exact. */
const NUMBER = '-?\\d{1,9}(?:\\.\\d{1,9})?';

/** Binary fractions leave a tail, as 0.07·1000 does; twelve digits are far beyond what a site is measured to. */
const DIGITS = 12;

/**
 * The shape of a quantity.
 * @param range in the unit that errors tell it in: m, mA, V, h, ohm, ohm/km, °C, Ah, %
 * @param what what the value is, for the JSON Schema
 * @param because where the range is from, if errors are to say so
 * @returns reads into m, whole µA, V, h, Ω, Ω/km, °C, Ah or a ratio
 */
export function quantity(kind: keyof typeof QUANTITIES, range: Range, what: string, because?: string) {
  const { units, told, example, isWhole = false }: Quantity = QUANTITIES[kind];
  const pattern = new RegExp(`^(${NUMBER}) ?(${Object.keys(units).join('|')})$`, 'u');
  const error = `a text of a number${rangeText(range, told)} with its unit (${unitNames(units)}) such as ${example}${because === undefined ? '' : `; ${because}`}`;
  const read = (text: string): number => {
    const [, digits = '', unit = ''] = pattern.exec(text) ?? [];
    return inUnit(Number(digits), units[unit] ?? Number.NaN, isWhole);
  };
  const factor = units[told] ?? Number.NaN;
  const isWithin = (value: number) => isInRange(value, range, factor, isWhole);
  return z
    .string({ error: ({ input }) => (typeof input === 'number' ? `a unit as well: ${error}` : error) })
    .regex(pattern, { error, abort: true })
    .describe(`${what}: ${error}`)
    .transform(read)
    .refine(isWithin, { error });
}

function inUnit(value: number, factor: number, isWhole: boolean): number {
  const product = Number((value * factor).toPrecision(DIGITS));
  return isWhole ? Math.round(product) : product;
}

function isInRange(value: number, { least, over, most }: Range, factor: number, isWhole: boolean): boolean {
  const bound = (told: number) => inUnit(told, factor, isWhole);
  return (
    (least === undefined || value >= bound(least)) &&
    (over === undefined || value > bound(over)) &&
    (most === undefined || value <= bound(most))
  );
}

function rangeText({ least, over, most }: Range, unit: string): string {
  const from = least === undefined ? (over === undefined ? '' : ` above ${over}`) : ` from ${least}`;
  return `${from}${most === undefined ? '' : `${least === undefined ? ', up to' : ' to'} ${most} ${unit}`}`;
}

/** The two signs of the ohm are told once. */
function unitNames(units: Units): string {
  return Object.keys(units)
    .filter((unit) => !unit.startsWith('\u2126'))
    .join(' or ');
}
