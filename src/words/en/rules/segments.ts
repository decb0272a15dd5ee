import { names } from '../names.js';
import { count, figures } from '../sentences.js';

const { milliamps, list } = figures;

type VerdictName = keyof typeof names.verdicts;

/** Rules about segments, lines and addresses. */
export const segmentRules = {
  'assumption-decides': {
    title: 'The verdict hangs on currents that nobody declared',
    why: 'With what such devices draw at least the segment is judged one way, with what they draw at most another. The rule of thumb decides, and nobody has looked.',
    remedy:
      'Look the currents up in the data sheets and enter them in the policy; the list of unknown products says which.',
    limit: 'the verdict is the same at both bounds of the assumed currents',
    source: 'volume 3/2/2: a standard device draws 3 to 12 mA; the bounds are the policy’s',
    message: (f: {
      segment: string;
      verdict: VerdictName;
      assumedItems: number;
      lowMa: number;
      atLow: VerdictName;
      loadAtLowMa: number;
      highMa: number;
      atHigh: VerdictName;
      loadAtHighMa: number;
      turnsAtMa: number | null;
    }) => {
      const { verdicts } = names;
      const low = `at ${milliamps(f.lowMa)} each it would be ${verdicts[f.atLow]} (${milliamps(f.loadAtLowMa)})`;
      const high = `at ${milliamps(f.highMa)} each ${verdicts[f.atHigh]} (${milliamps(f.loadAtHighMa)})`;
      const turn = f.turnsAtMa === null ? '' : `; it turns above an average of ${milliamps(f.turnsAtMa)}`;
      return `Line ${f.segment} is ${verdicts[f.verdict]}, but ${count(f.assumedItems, 'item')} of its load ${f.assumedItems === 1 ? 'is' : 'are'} assumed: ${low}, ${high}${turn}.`;
    },
    advice: (f: { segment: string; assumedItems: number }) =>
      `Look up the ${f.assumedItems === 1 ? 'current' : `${f.assumedItems} currents`} that ${f.assumedItems === 1 ? 'is' : 'are'} assumed on line ${f.segment}.`,
  },
  'segment-boundaries-unknown': {
    title: 'Which devices hang on which electrical segment is not in the export',
    why: 'Repeaters cut a line into electrical segments, each with a supply of its own. This form of the export keeps the line as one, so no segment can be called fine.',
    remedy:
      'Place the devices on segments in the commissioning software and export the project in a schema with segments (21 or later), or say in the site sheet which device is on which (lines).',
    limit: 'every device is on one known electrical segment',
    source: 'volume 3/2/2 §1.3.2: up to four segments per line, each with its own supply',
    message: (f: {
      segment: string;
      line: string;
      cause: 'repeaters' | 'beside the segments' | 'devices beside';
      items: number;
      stray: readonly string[];
      repeaters: readonly string[];
      supplies: number;
    }) => {
      if (f.cause === 'beside the segments') {
        return `${count(f.items, 'participant')} ${f.items === 1 ? 'stands' : 'stand'} on line ${f.line} itself, beside its segments: ${list(f.stray)}; which segment they are on is not known.`;
      }
      if (f.cause === 'devices beside') {
        return `On line ${f.line} itself, beside its segments, ${f.stray.length === 1 ? 'stands' : 'stand'} ${list(f.stray)}; what of that is on line ${f.segment} is not known, so neither is its balance.`;
      }
      return `${count(f.repeaters.length, 'repeater')} (${list(f.repeaters)}) ${f.repeaters.length === 1 ? 'cuts' : 'cut'} line ${f.segment} into electrical segments; the export does not say on which of them its ${count(f.items, 'participant')} and ${count(f.supplies, 'supply', 'supplies')} stand.`;
    },
    advice: () =>
      'Open the project in a version of the commissioning software that knows segments, place the devices on them and export again; or say in the site sheet which device is on which segment (lines).',
  },
  'duplicate-address': {
    title: 'Two devices take one individual address',
    why: 'Only one of them can be reached and loaded; the other may not be fitted at all, and then its current is charged for nothing.',
    remedy: 'Give one of them another address, or delete the device that does not exist.',
    limit: 'an individual address belongs to one device',
    source: 'volume 3/2/2 §1.3: 16 areas × 16 lines × 256 addresses',
    message: (f: { address: string; takers: readonly string[] }) =>
      `The address ${f.address} is taken by ${list(f.takers)}.`,
    advice: () => 'Keep one device on the address and give the others free ones; delete those that are not there.',
  },
  'too-many-devices': {
    title: 'More participants than a segment may have',
    why: 'Each participant loads the line with its transceiver. The classic device type allows 64 on a segment, the newer one 256.',
    remedy: 'Split the segment, or make sure from the data sheets that every device on it is of the newer type.',
    limit:
      '64 participants of the classic type (a note above), 256 of the newer type (an error above), unless the policy says otherwise',
    source: 'volume 3/2/2',
    message: (f: { segment: string; participants: number; most: number; isImpossible: boolean }) =>
      `Line ${f.segment} has ${f.participants} participants; ${f.isImpossible ? `no device type allows more than ${f.most}` : `with a device of the classic type on it, ${f.most} are allowed`}.`,
    advice: (f: { most: number; isImpossible: boolean }) =>
      f.isImpossible
        ? `Split the segment so that no part has more than ${f.most} participants.`
        : 'Check on the data sheets that every device is of the newer type, or split the segment.',
  },
  'coupler-missing': {
    title: 'A line has devices, and no coupler to the line above',
    why: 'Without a coupler the line is an island; once one is added it draws from this line and, where that is twisted pair, from the line above.',
    remedy: 'Order a coupler and enter it at device address 0, or check that the line is meant to stand alone.',
    limit: 'a line of an installation with several lines has a coupler at device address 0',
    source: 'volume 3/2/2 §1.3; that address 0 is the coupler’s is common practice',
    message: (f: { line: string }) =>
      `Line ${f.line} has no coupler at ${f.line}.0, though the installation has other lines.`,
    advice: (f: {
      line: string;
      lineAbove: string | null;
      above: 'powered' | 'IP' | 'unpowered' | 'not in the export';
    }) => {
      const above = `line ${f.lineAbove ?? ''} above it`;
      const charged = {
        powered: ` and on ${above}`,
        IP: ` only: ${above} is IP, so it has to be an IP coupler`,
        unpowered: ` only, as ${above} carries no power`,
        'not in the export': `; ${above} is not in the export`,
      };
      return `Enter the coupler ${f.line}.0, or order one; it is charged on line ${f.line}${charged[f.above]}.`;
    },
  },
  'device-unplaced': {
    title: 'A device stands on no line',
    why: 'What it draws can be charged to no segment; once it is wired somewhere, that balance changes.',
    remedy: 'Place the device on its line, or delete it from the project.',
    limit: 'every device is placed on a line',
    source: 'common practice, no source',
    message: (f: { device: string; product: string; declared: string | null }) =>
      `${f.device} (${f.product}) stands on no line; its current (${f.declared === null ? 'not declared' : `${f.declared} mA`}) is charged nowhere.`,
    advice: () => 'Place it on the line that it will be wired to and audit again, or delete it.',
  },
  'schema-not-known': {
    title: 'The schema number of the export is not known here',
    why: 'The document was read as the nearest known form. If the form changed in between, something may have been read wrongly.',
    remedy: 'Check a few segments of the report against the project, or use a newer version of this service.',
    limit: 'schemas 10 to 14 and 20 to 23',
    source: 'from memory, not confirmed: the schema numbers met in practice',
    message: (f: { schema: number }) =>
      `The export is in schema ${f.schema}, which is not known here; it was read as the nearest known one.`,
    advice: () => 'Check devices and supplies of a few segments against the commissioning software.',
  },
};
