import { COLDEST_C } from '../electrical/battery.js';
import type { HoldUpFigures } from '../electrical/hold-up.js';
import { segmentLabel } from '../plant/plant.js';
import { toMa } from '../units.js';
import type { Words } from '../words/words.js';
import { noBoundaries, restsOn } from './judged.js';
import { segmentRule } from './rule.js';
import { segmentSubject } from './words.js';

export const holdUpTooShort = segmentRule({
  id: 'hold-up-too-short',
  severity: 'error',
  basis: 'handbook',
  missing: (balance, context) => {
    const { onSite } = balance;
    const { missing } = context.words;
    const unsaid = noBoundaries(balance, context);
    if (unsaid !== null) return unsaid;
    if (onSite === null) return missing.holdUpWithoutSheet;
    return onSite.holdUp === null
      ? missing.holdUpUnsaid
      : openHoldUp(onSite.holdUp, balance.isFeedUnknown, context.words);
  },
  *check(balance, { words }) {
    const { segment, onSite, judged } = balance;
    const holdUp = onSite?.holdUp;
    const givenAh = holdUp?.capacityAh;
    if (holdUp?.holds !== false || givenAh == null) return;
    const lastsHours = holdUp.lastsHours === null ? null : roundedDown(holdUp.lastsHours);
    const neededAh = roundedUp(holdUp.neededAh);
    yield {
      subject: segmentSubject(segment),
      segments: [segment],
      measure: measureOf(holdUp, { lastsHours, neededAh, givenAh }, words),
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
});

/** What is missing to tell whether it holds; a battery that does not is found whatever is missing. */
function openHoldUp(
  { holds, capacityAh, neededAh, batteryV }: HoldUpFigures,
  isFeedUnknown: boolean,
  { missing }: Words,
): string | null {
  if (holds === false) return null;
  if (isFeedUnknown) return missing.feed;
  if (capacityAh === null) {
    return missing.batteryCapacity({ neededAh: roundedUp(neededAh), batteryV });
  }
  return holds === null ? missing.batteryInCold(COLDEST_C) : null;
}

interface Shown {
  readonly lastsHours: number | null;
  readonly neededAh: number;
  readonly givenAh: number;
}

/** The time, where it is what falls short; else the capacity. */
function measureOf(
  { wantedHours, lastsHours: exactHours }: HoldUpFigures,
  { lastsHours, neededAh, givenAh }: Shown,
  words: Words,
) {
  const { quantities } = words.facts;
  const isShort = lastsHours !== null && lastsHours < wantedHours && Number(exactHours) < wantedHours;
  return isShort
    ? ({
        quantity: quantities.holdUpTime,
        unit: 'h',
        value: lastsHours,
        limit: wantedHours,
        holds: 'at least',
      } as const)
    : ({
        quantity: quantities.batteryCapacity,
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
