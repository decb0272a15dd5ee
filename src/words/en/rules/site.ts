import type { LengthFacts } from '../../facts.js';
import { figures, lengthText, limitText } from '../sentences.js';

const { milliamps, volts, list } = figures;

/** Rules about what a site sheet says. */
export const siteRules = {
  'voltage-too-low': {
    title: 'The voltage at the far end of the cable is too low',
    why: 'Cable takes its share of the voltage. A supply that is large enough can still leave the farthest devices below what they need; they reset or stay silent, first when many act at once.',
    remedy: 'Use a second pair in parallel, a thicker cable, a supply nearer to the load, or split the segment.',
    limit:
      'every device has at least 21 V as installed at the least voltage of the supply; below 20 V there, or below 21 V even at the typical voltage, it is an error',
    source: 'volume 3/2/2 §1.2.2: 21 V as installed, devices must still work at 20 V',
    message: (f: {
      segment: string;
      supplyV: number;
      atVoltage: 'typical' | 'least';
      withPlanned: boolean;
      lowestV: number | null;
      isExact: boolean;
      point: string | null;
      limitV: number;
    }) => {
      const supply = `with ${volts(f.supplyV)} at the supply (the ${f.atVoltage} case)`;
      const when = f.withPlanned ? ', with what is planned,' : '';
      if (f.lowestV === null) {
        return `On line ${f.segment}${when} there is no working point ${supply}: its devices want more power than the cable can carry to them.`;
      }
      const best = f.isExact ? 'is' : 'is at best';
      return `On line ${f.segment}${when} the lowest voltage ${best} ${volts(f.lowestV)}${f.point === null ? '' : ` at ${f.point}`}, ${supply}; ${volts(f.limitV)} are needed.`;
    },
    advice: (f: { point: string | null }) =>
      `Lower the resistance of the way to ${f.point ?? 'the far end'} (a second pair in parallel halves it; the limits of length stay), bring a supply nearer, or split the segment. The data sheets of the devices say what voltage they need.`,
  },
  'cable-too-long': {
    title: 'More cable than a segment may have',
    why: 'All cable of a segment loads the signals with its capacitance; with more than is allowed telegrams are repeated or lost.',
    remedy: 'Split the segment, or shorten its cable.',
    limit:
      'all cable of a segment together ≤ 1000 m unless the policy says otherwise; a second pair in parallel is the same cable',
    source: 'volume 3/2/2; volume 4/4 §7 for the second pair',
    message: (f: LengthFacts) => `The cable of line ${f.segment} is ${lengthText(f)} long; ${limitText(f)}.`,
    advice: (f: LengthFacts) =>
      `Split the segment so that ${f.excessM} m or more of its cable become one of their own, with a supply of its own; a second pair or thicker wires do not help against length.`,
  },
  'supply-too-far': {
    title: 'A device is too far from the nearest supply',
    why: 'The choke of the supply shapes the pulses of every device; over too much cable they arrive out of shape, whatever the voltage is.',
    remedy: 'Move the supply towards the middle of the segment, add one, or split the segment.',
    limit: 'cable from a device to its nearest supply ≤ 350 m unless the policy says otherwise',
    source: 'volume 9/2 §2.11',
    message: (f: LengthFacts) =>
      `The device of line ${f.segment} that is farthest from a supply has ${lengthText(f)} of cable to the nearest one; ${limitText(f)}.`,
    advice: (f: LengthFacts) =>
      `Bring a supply ${f.excessM} m or more nearer to it: move the one there is towards the middle, or add one, as far as the distance between chokes and the short-circuit currents admit. Otherwise split the segment.`,
  },
  'devices-too-far-apart': {
    title: 'Two devices of a segment are too far apart',
    why: 'Devices that send at once tell from each other’s bits who goes on; over too much cable these arrive too late, and telegrams collide.',
    remedy: 'Split the segment between them, or lay the cable on a shorter way.',
    limit: 'cable between any two devices of a segment ≤ 700 m unless the policy says otherwise',
    source: 'volume 3/2/2',
    message: (f: LengthFacts) =>
      `Two devices of line ${f.segment} have ${lengthText(f)} of cable between them; ${limitText(f)}.`,
    advice: (f: LengthFacts) =>
      `Split the segment between the two, or lay the cable so that the way between them is ${f.excessM} m or more shorter.`,
  },
  'supplies-too-close': {
    title: 'Two supplies with chokes of their own are too close together',
    why: 'Two chokes near each other load the signals of the devices around them twice, and telegrams are lost there.',
    remedy: 'Move the supplies apart, let them share one choke, or use one larger supply.',
    limit:
      'cable between two central supplies with chokes of their own ≥ 200 m unless the policy says otherwise; none where they share one',
    source: 'volume 9/2 §2.11 and §5.11',
    message: (f: {
      segment: string;
      supplies: readonly string[];
      isExact: boolean;
      distanceM: number;
      limitM: number;
      missingM: number;
    }) =>
      `Supplies of line ${f.segment} with chokes of their own (${list(f.supplies)}) have ${f.isExact ? '' : 'at most '}${f.distanceM} m of cable between them; at least ${f.limitM} m are wanted: ${f.missingM} m too little.`,
    advice: (f: { missingM: number }) =>
      `Move one of the supplies ${f.missingM} m of cable or more away, let both share one choke where the makers allow it, or fit one supply for the whole load.`,
  },
  'hold-up-too-short': {
    title: 'The battery does not carry the segment for the wanted time',
    why: 'A battery that is chosen by bus amperes falls short: losses, age, cold and a high current all take of its capacity.',
    remedy: 'Fit a larger battery, or take load off the segment.',
    limit: 'needed capacity ≤ that of the battery, and time that it lasts ≥ the time that the site sheet wants',
    source: 'BS 5839-1 Annex for the needed capacity; Peukert’s law for the time',
    message: (f: {
      segment: string;
      givenAh: number;
      loadMa: number;
      lastsHours: number | null;
      hasPeak: boolean;
      wantedHours: number;
      neededAh: number;
      methods: readonly string[];
      assumed: readonly string[];
    }) =>
      `The battery of line ${f.segment} (${f.givenAh} Ah) gives ${milliamps(f.loadMa)}${f.lastsHours === null ? '' : ` for ${f.lastsHours} h`}${f.hasPeak ? ', and then the load at the end' : ''}; wanted are ${f.wantedHours} h, which need ${f.neededAh} Ah. Computed by: ${f.methods.join('; ')}.${f.assumed.length === 0 ? '' : ` Taken, as nobody said: ${f.assumed.join('; ')}.`}`,
    advice: (f: { neededAh: number; caution: string }) =>
      `Fit a battery of ${f.neededAh} Ah or more and give it in the site sheet, as it has to last the time as well; or take load off the segment. ${f.caution}`,
  },
  'measured-deviates': {
    title: 'What was measured is not what the connected devices come to',
    why: 'A current or voltage that the plan does not explain has a cause on site: a device that the project does not hold, another cable, a wrong feed, a fault that is only beginning.',
    remedy: 'Look for what differs between plan and site, measure again, and correct plan or installation.',
    limit:
      'a measured current within 20 %, a voltage within 0.5 V of what is computed (unless the policy says otherwise)',
    source:
      'common practice, no source: data sheets state the most that a device draws; the tolerances are the policy’s',
    message: (f: {
      segment: string;
      deviations: readonly Deviation[];
      connectedBy: 'loaded' | 'site sheet' | 'nobody';
    }) => {
      const by = {
        loaded: 'computed from the devices that the archive marks as loaded',
        'site sheet': 'computed from the devices that the site sheet says are connected',
        nobody: 'that is what every device needs as installed',
      };
      return `On line ${f.segment} the ${list(f.deviations.map(deviationText))}; ${by[f.connectedBy]}.`;
    },
    advice: (f: { segment: string }) =>
      `Check first that the right devices are taken as connected, then hold the causes that the fault view ranks against each other (linebudget diagnose) on line ${f.segment}.`,
  },
  'site-sheet-stale': {
    title: 'The site sheet names what the archive no longer holds',
    why: 'The sheet was written for another state of the project. What it says of things that are gone is not applied, so lengths and places that were known are missing.',
    remedy: 'Bring the site sheet up to date with the archive.',
    limit: 'every name of the site sheet is one of the archive',
    source: 'derived here: a sheet carries the digest of the archive that it was written for',
    message: (f: { segment: string | null; names: readonly StaleFacts[] }) =>
      `The site sheet${f.segment === null ? '' : ` for line ${f.segment}`} names ${list(f.names.map(({ kind, name, now }) => `the ${kind} ${name}${now === null ? '' : ` (it is ${now})`}`))}, which the archive does not have${f.names.some(({ now }) => now !== null) ? ' there' : ''}; what it says of ${f.names.length === 1 ? 'it' : 'them'} is not applied.`,
    advice: (f: { names: readonly StaleFacts[] }) =>
      `Correct or remove ${list(f.names.map(({ place, nearest }) => (nearest.length === 0 ? place : `${place} (nearest: ${list(nearest)})`)))}, then write the digest of this archive into the sheet (archive).`,
  },
};

interface Deviation {
  readonly what: string;
  readonly unit: string;
  readonly measured: number;
  readonly low: number;
  readonly high: number | null;
}

function deviationText(f: Deviation): string {
  const range = f.high === null ? `at least ${f.low}` : `${f.low} to ${f.high}`;
  return `${f.what} was measured as ${f.measured} ${f.unit} where ${range} ${f.unit} are to be expected`;
}

interface StaleFacts {
  readonly place: string;
  readonly kind: 'segment' | 'device' | 'location' | 'line';
  readonly name: string;
  readonly nearest: readonly string[];
  readonly now: string | null;
}
