import { figures } from './sentences.js';

const { number } = figures;

/** What would make the bounds of a cable's lengths narrower. */
const cable = {
  devices: (f: { unplaced: number; all: number }) => `where ${f.unplaced} of ${f.all} devices sit`,
  supplies: (f: { unplaced: number; all: number }) => `where ${f.unplaced} of ${f.all} supplies sit`,
  undrawn: (undrawnM: number) => `the runs of a further ${number(undrawnM)} m of cable`,
  aSupply: 'a supply',
  point: (name: string) => `point ${name}`,
  unjoined: (f: { point: string; target: string }) => `point ${f.point} is not joined to ${f.target} by any run`,
  furtherParts: (further: number) => `the same of ${further} further parts of the layout`,
  runs: 'the runs of its cable, and where devices and supplies sit',
  farthest: 'the cable from the nearest supply to the device that is farthest from one',
  total: 'the length of all its cable',
};

/** What a hold-up was worked out with. */
const holdUp = {
  caution:
    'To back up the bus alone rarely helps unless what it switches is backed up as well (common practice, no source).',
  noBattery: (v: number) => `a battery of ${number(v)} V, as none is given (common practice, no source)`,
  efficiency: (share: number) => `efficiency from the battery to the bus ${number(share)} (common practice, no source)`,
  ownConsumption: (a: number) =>
    `own consumption of the supply ${number(a)} A: not known, and whatever it is shortens the time`,
  temperature: (celsius: number) => `battery at ${number(celsius)} °C, so no correction: a colder one gives less`,
  tooCold: (celsius: number) =>
    `correction below ${number(celsius)} °C continued in a straight line (derived here): at least so much, likely more`,
  peukert: (exponent: number) =>
    `Peukert’s exponent ${number(exponent)} (handbooks give 1.1–1.3 for lead-acid; from memory, not confirmed)`,
  ratedHours: (hours: number) => `capacity rated over ${number(hours)} h (common practice, no source)`,
  current: 'battery current: I = I_bus·V_bus/(η·V_battery) + own consumption (derived here)',
  /** @param highLoadFactor null without a load at the end */
  capacity: (highLoadFactor: number | null) =>
    `needed capacity: C = 1.25·(T1·I1 + D·T2·I2), ${decisionOn(highLoadFactor)} (BS 5839-1 Annex), times the correction for temperature`,
  hours:
    'hours: Peukert’s law t = H·(C/(I·H))^k (handbook) on the capacity divided by 1.25 for ageing and by the correction; ' +
    'no more than the rated capacity is credited to a lower current, and the load at the end takes its share (derived here)',
  correction:
    'temperature: cell-size correction of IEEE 485 (from memory, not confirmed), linear between its points, no credit above 25 °C',
};

function decisionOn(highLoadFactor: number | null): string {
  if (highLoadFactor === null) return 'no load at the end';
  const because = highLoadFactor === 1 ? 'holds as C/20 is not below I2' : 'is taken as C/20 with D = 1 is below I2';
  return `D = ${number(highLoadFactor)}, which ${because}`;
}

/** What is worked out from a site sheet, where it is words. */
export const site = { cable, holdUp };
