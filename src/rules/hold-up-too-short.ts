import { COLDEST_C } from '../electrical/battery.js';
import type { HoldUpFigures } from '../electrical/hold-up.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import { noBoundaries, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { milliamps, segmentSubject } from './words.js';

export const holdUpTooShort = segmentRule({
  id: 'hold-up-too-short',
  title: 'The battery does not carry the segment for the wanted time',
  severity: 'error',
  why: 'A battery that is chosen by bus amperes falls short: losses, age, cold and a high current all take of its capacity.',
  remedy: 'Fit a larger battery, or take load off the segment.',
  limit: 'needed capacity ≤ that of the battery, and time that it lasts ≥ the time that the site sheet wants',
  basis: 'handbook',
  source: 'BS 5839-1 Annex for the needed capacity; Peukert’s law for the time',
  missing: (balance) => {
    const { onSite } = balance;
    const unsaid = noBoundaries(balance);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return 'whether a hold-up time is wanted: no site sheet says so';
    return onSite.holdUp === null
      ? 'whether a hold-up time is wanted: the site sheet does not say'
      : openHoldUp(onSite.holdUp, balance.isFeedUnknown);
  },
  *check(balance) {
    const { segment, onSite, judged } = balance;
    const holdUp = onSite?.holdUp;
    const givenAh = holdUp?.capacityAh;
    if (holdUp?.holds !== false || givenAh == null) return;
    const lastsHours = holdUp.lastsHours === null ? null : roundedDown(holdUp.lastsHours);
    const neededAh = roundedUp(holdUp.neededAh);
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(holdUp, { lastsHours, neededAh, givenAh }),
      restsOn: restsOn(balance),
      facts: {
        segment: segmentLabel(segment),
        loadMa: toMa(judged.load.totalUa),
        lastsHours,
        wantedHours: holdUp.wantedHours,
        neededAh,
        givenAh,
        hasPeak: onSite?.entry.holdUp?.peak != null,
        methods: holdUp.methods,
        assumed: holdUp.assumed,
        caution: holdUp.caution,
      },
    };
  },
  message: (f) =>
    `The battery of line ${f.segment} (${f.givenAh} Ah) gives ${milliamps(f.loadMa)}${f.lastsHours === null ? '' : ` for ${f.lastsHours} h`}${f.hasPeak ? ', and then the load at the end' : ''}; wanted are ${f.wantedHours} h, which need ${f.neededAh} Ah. Computed by: ${f.methods.join('; ')}.${f.assumed.length === 0 ? '' : ` Taken, as nobody said: ${f.assumed.join('; ')}.`}`,
  advice: (f) =>
    `Fit a battery of ${f.neededAh} Ah or more and give it in the site sheet, as it has to last the time as well; or take load off the segment. ${f.caution}`,
});

/** What is missing to tell whether it holds; a battery that does not is found whatever is missing. */
function openHoldUp({ holds, capacityAh, neededAh, batteryV }: HoldUpFigures, isFeedUnknown: boolean): string | null {
  if (holds === false) return null;
  if (isFeedUnknown) return 'the supply that feeds the segment is not known';
  if (capacityAh === null) {
    return `the capacity of a battery: ${roundedUp(neededAh)} Ah at ${batteryV} V are needed`;
  }
  return holds === null ? `how much the battery gives below ${COLDEST_C} °C` : null;
}

interface Shown {
  readonly lastsHours: number | null;
  readonly neededAh: number;
  readonly givenAh: number;
}

/** The time, where it is what falls short; else the capacity. */
function measureOf({ wantedHours, lastsHours: exactHours }: HoldUpFigures, { lastsHours, neededAh, givenAh }: Shown) {
  const isShort = lastsHours !== null && lastsHours < wantedHours && Number(exactHours) < wantedHours;
  return isShort
    ? ({ quantity: 'hold-up time', unit: 'h', value: lastsHours, limit: wantedHours, holds: 'at least' } as const)
    : ({
        quantity: 'capacity of the battery',
        unit: 'Ah',
        value: givenAh,
        limit: neededAh,
        holds: 'at least',
      } as const);
}

/** To a hundredth, so that what falls short never reads as enough; what floating-point numbers add is taken off first. */
function roundedDown(value: number): number {
  return Math.floor(Math.round(value * 1e9) / 1e7) / 100;
}

function roundedUp(value: number): number {
  return Math.ceil(Math.round(value * 1e9) / 1e7) / 100;
}
