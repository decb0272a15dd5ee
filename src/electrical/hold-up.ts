import type { Battery, HoldUp } from '../site/site.js';
import { toA } from '../units.js';
import { EN } from '../words/en/words.js';
import type { Words } from '../words/words.js';
import {
  AGEING,
  batteryCurrentA,
  COLDEST_C,
  hoursBefore,
  type NeededCapacity,
  neededCapacity,
  type Stretch,
  temperatureFactor,
} from './battery.js';

export interface HoldUpFigures {
  readonly wantedHours: number;
  readonly busA: number;
  readonly busV: number;
  /** Of the battery, V; assumed where none is given. */
  readonly batteryV: number;
  /** Drawn from the battery for the load, without what comes at the end. */
  readonly batteryA: number;
  /** Capacity for the wanted hours and what comes at their end. */
  readonly neededAh: number;
  /** Of the given battery; null where none is given, or not its capacity. */
  readonly capacityAh: number | null;
  /** How long it gives the load and, after it, what comes at the end; null without its capacity, or if nothing is drawn. */
  readonly lastsHours: number | null;
  /** Its capacity is what is needed, and it lasts as long as wanted; null without it, or if it is too cold to tell. */
  readonly holds: boolean | null;
  readonly factors: HoldUpFactors;
  /** What the sheet does not say and was taken instead, in words with its source. */
  readonly assumed: readonly string[];
  /** What the figures were made with, in words with its source. */
  readonly methods: readonly string[];
  readonly caution: string;
}

interface HoldUpFactors {
  readonly ageing: number;
  readonly temperature: number;
  readonly efficiency: number;
  readonly peukert: number;
  readonly ratedHours: number;
}

/** Taken where the sheet says nothing; the texts about assumptions say where each is from. */
const DEFAULTS = { efficiency: 0.85, ownA: 0, celsius: 25, peukert: 1.2, ratedHours: 20, voltageV: 12 } as const;

/** What is known of a battery that the sheet does not give. */
const NO_BATTERY: Battery = {
  capacityAh: null,
  voltageV: DEFAULTS.voltageV,
  efficiency: null,
  ownA: null,
  temperatureC: null,
  peukert: null,
  ratedHours: null,
};

/** Share by which a figure may miss its bound through the rounding of floating-point numbers alone. */
const ROUNDING = 1e-9;

/**
 * What a wanted hold-up comes to. The load at the end is on top of the bus load and follows the wanted hours, as in
 * BS 5839-1, where the alarm follows the stand-by.
 * @param busUa load of the segment, µA
 * @param busV voltage at which the supply delivers it, V
 * @param words what the figures were made with is told with these
 */
export function holdUpOf(
  holdUp: HoldUp,
  busUa: number,
  busV: number,
  { site }: Pick<Words, 'site'> = EN,
): HoldUpFigures {
  const busA = toA(busUa);
  const { peak } = holdUp;
  const battery = holdUp.battery ?? NO_BATTERY;
  const factors = factorsOf(battery);
  const path = { voltageV: battery.voltageV, efficiency: factors.efficiency, ownA: battery.ownA ?? DEFAULTS.ownA };
  const batteryA = batteryCurrentA(busA, busV, path);
  const atEnd = peak && {
    hours: peak.hours,
    batteryA: batteryCurrentA(toA(busUa + peak.currentUa), busV, path),
  };
  const published = neededCapacity({ hours: holdUp.hours, batteryA }, atEnd);
  const neededAh = published.ah * factors.temperature;
  const { capacityAh } = battery;
  const hours = capacityAh === null ? null : lastsHoursOf(capacityAh, factors, batteryA, atEnd);
  const holds =
    capacityAh === null || hours === null ? null : reaches(capacityAh, neededAh) && reaches(hours, holdUp.hours);
  return {
    ...{ wantedHours: holdUp.hours, busA, busV, caution: site.holdUp.caution },
    batteryV: battery.voltageV,
    batteryA,
    neededAh,
    capacityAh,
    lastsHours: hours !== null && Number.isFinite(hours) ? hours : null,
    holds: holds && isTooCold(battery) ? null : holds,
    factors,
    assumed: [
      ...(holdUp.battery === null ? [site.holdUp.noBattery(DEFAULTS.voltageV)] : []),
      ...assumptionsOf(battery, site.holdUp),
    ],
    methods: methodsOf(published, capacityAh !== null, site.holdUp),
  };
}

function factorsOf(battery: Battery): HoldUpFactors {
  return {
    ageing: AGEING,
    temperature: temperatureFactor(battery.temperatureC ?? DEFAULTS.celsius),
    efficiency: battery.efficiency ?? DEFAULTS.efficiency,
    peukert: battery.peukert ?? DEFAULTS.peukert,
    ratedHours: battery.ratedHours ?? DEFAULTS.ratedHours,
  };
}

function lastsHoursOf(ah: number, factors: HoldUpFactors, batteryA: number, atEnd: Stretch | null): number {
  const { ageing, temperature, peukert, ratedHours } = factors;
  return hoursBefore(batteryA, atEnd, {
    capacityAh: ah / ageing / temperature,
    ratedHours,
    peukert,
  });
}

function reaches(figure: number, bound: number): boolean {
  return figure >= bound * (1 - ROUNDING);
}

/** The correction is then the least that it can be: what does not hold with it does not hold, but what does may not. */
function isTooCold({ temperatureC }: Battery): boolean {
  return temperatureC !== null && temperatureC < COLDEST_C;
}

type Texts = Words['site']['holdUp'];

function assumptionsOf(battery: Battery, texts: Texts): string[] {
  const { efficiency, ownA, celsius, peukert, ratedHours } = DEFAULTS;
  const assumed: string[] = [];
  if (battery.efficiency === null) assumed.push(texts.efficiency(efficiency));
  if (battery.ownA === null) assumed.push(texts.ownConsumption(ownA));
  if (battery.temperatureC === null) assumed.push(texts.temperature(celsius));
  if (isTooCold(battery)) assumed.push(texts.tooCold(COLDEST_C));
  if (battery.capacityAh === null) return assumed;
  if (battery.peukert === null) assumed.push(texts.peukert(peukert));
  if (battery.ratedHours === null) assumed.push(texts.ratedHours(ratedHours));
  return assumed;
}

function methodsOf({ highLoadFactor }: NeededCapacity, hasHours: boolean, texts: Texts): string[] {
  return [texts.current, texts.capacity(highLoadFactor), ...(hasHours ? [texts.hours] : []), texts.correction];
}
