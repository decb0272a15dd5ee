import type { Report } from '../../../src/report/report.js';
import type { Case, Group } from '../cases.js';
import { bad, fine } from '../cases.js';
import { archive, area, device, HARDWARE, line, products, SUPPLY_ON_LINE, segment, TOPOLOGY } from '../plant.js';

type Origin = 'declared' | 'not declared' | 'unreadable' | 'negative';
type Doubt = 'zero' | 'too high' | 'unreadable' | 'negative';

/** What the lamp is charged with and why, and what is doubted of it. */
const charged = (report: Report) => {
  const { currentMa, origin, assumedBecause } = device('lamp')(report) ?? {};
  const doubts = report.findings.filter(({ rule }) => rule === 'current-implausible').map(({ facts }) => facts.doubt);
  return [currentMa, assumedBecause ?? origin, ...doubts];
};

/** A current as it is written in product data. */
function current(written: string, ma: number, why: Origin, ...doubts: readonly Doubt[]): Case {
  const what = `a current of ${JSON.stringify(written).slice(0, 60)}`;
  return fine(what, () => archive({ [HARDWARE]: products(written) }), charged, [ma, why, ...doubts]);
}

/** What no current can be is charged by the rule of thumb. */
const unreadable = (written: string): Case => current(written, 10, 'unreadable', 'unreadable');

const rating = (written: string, rated: number | null): Case =>
  fine(
    `a rating of ${JSON.stringify(written)}`,
    () => archive({ [HARDWARE]: products().replace('"320"', `"${written}"`) }),
    ({ segments }) => segments[0]?.supply.units[0]?.ratedMa,
    rated,
  );

const addressed = (written: string) =>
  archive({
    [TOPOLOGY]: segment(`${SUPPLY_ON_LINE}<DeviceInstance Id="lamp" Address="${written}" ProductRefId="lp"/>`),
  });

const address = (written: string, read: string | null): Case =>
  fine(
    `a device at ${JSON.stringify(written)}`,
    () => addressed(written),
    (report) => device('lamp')(report)?.address,
    read,
  );

const noAddress = (written: string): Case =>
  bad(
    `a device at ${JSON.stringify(written).slice(0, 60)}, which is none`,
    422,
    'invalid-value',
    () => addressed(written),
    TOPOLOGY,
  );

const noLine = (written: string): Case =>
  bad(
    `a line at ${JSON.stringify(written)}`,
    422,
    'invalid-value',
    () => archive({ [TOPOLOGY]: area(line('', { address: written })) }),
    TOPOLOGY,
  );

const noSegment = (written: string): Case =>
  bad(
    `a segment numbered ${JSON.stringify(written)}`,
    422,
    'invalid-value',
    () => archive({ [TOPOLOGY]: area(line('', { number: written })) }),
    TOPOLOGY,
  );

export const NUMBERS: Group = {
  name: 'numbers',
  cases: [
    current(' 5 ', 5, 'declared'),
    current('+5', 5, 'declared'),
    current('5.', 5, 'declared'),
    current('.5', 0.5, 'declared'),
    current('5e0', 5, 'declared'),
    current('0.0005e4', 5, 'declared'),
    current('005', 5, 'declared'),
    current('0.1', 0.1, 'declared'),
    current(`5.${'0'.repeat(40)}`, 5, 'declared'),
    current(`4.${'9'.repeat(40)}`, 5, 'declared'),
    current('1000', 1000, 'declared', 'too high'),
    current('1e3', 1000, 'declared', 'too high'),
    current('100', 100, 'declared'),
    current('100.001', 100.001, 'declared', 'too high'),
    current('0', 0, 'declared', 'zero'),
    current('1e-400', 0, 'declared', 'zero'),
    current('-0', 0, 'declared', 'zero'),
    current('-5', 10, 'negative', 'negative'),
    current('-0.0001', 10, 'unreadable', 'unreadable'),
    current('', 10, 'not declared'),
    current(' \t ', 10, 'not declared'),
    ...[
      '1e400',
      '-1e400',
      '1e9',
      `${'9'.repeat(40)}`,
      '9'.repeat(4000),
      'NaN',
      'Infinity',
      '-INF',
      '0x10',
      '0b1',
      '1,5',
    ].map(unreadable),
    ...[
      '5mA',
      '5 mA',
      '1 000',
      '1_000',
      '٣',
      '５',
      '½',
      '−5',
      '--5',
      '5e',
      'e5',
      '.',
      '+',
      '5n',
      'null',
      '[5]',
      '1.2.3',
    ].map(unreadable),
    rating('-320', 320),
    rating('1e400', null),
    rating('NaN', null),
    rating('0', null),
    rating('', null),
    rating('320 mA', null),
    address(' 5 ', '1.1.5'),
    address('+5', '1.1.5'),
    address('005', '1.1.5'),
    address('255', '1.1.255'),
    address('0', '1.1.0'),
    address('', null),
    ...['256', '-1', '-0', '1.0', '1e1', '0x10', '٣', '5a', 'NaN', '1.1.5', '0000005', '9'.repeat(40)].map(noAddress),
    ...['16', '-1', '', 'one', '1.1'].map(noLine),
    ...['65536', '-1', '', '1e1', '0.5'].map(noSegment),
  ],
};
