import { describe, expect, it } from 'vitest';
import { segmentLabel } from '../../src/plant/plant.js';
import type { Policy } from '../../src/policy/policy.js';
import type { FittingChoice } from '../../src/sizing/choice.js';
import type { Proposal } from '../../src/sizing/proposal.js';
import { proposalsOf } from '../../src/sizing/proposals.js';
import { toMa } from '../../src/units.js';
import { choke, combined, consumer, contextOf, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { BOUNDS_MISSING, BOUNDS_UNKNOWN, only, UNPOWERED } from '../support/rules.js';

/** The proposal for the segment that people call so. */
async function proposed(plant: PlantSpec, label = '1.1'): Promise<Proposal> {
  const { bySegment } = await proposalsOf(contextOf(plant));
  for (const [segment, proposal] of bySegment) {
    if (segmentLabel(segment) === label) return proposal;
  }
  throw new Error(`no proposal for ${label}`);
}

/** What a choice comes to: ratings that stay, go and are bought, mA. */
const told = ({ kept, removed, added, marginUa }: FittingChoice) => ({
  keep: kept.map(({ ratingUa }) => ratingUa && toMa(ratingUa)),
  remove: removed.map(({ ratingUa }) => ratingUa && toMa(ratingUa)),
  add: added.map(({ ratingUa }) => toMa(ratingUa)),
  margin: toMa(marginUa),
});

async function said(plant: PlantSpec, label?: string) {
  const { action, choice } = await proposed(plant, label);
  return { action, ...(choice === null ? {} : told(choice)) };
}

/** Supplies of these ratings, and a load. */
const fed = (ratings: readonly (number | undefined)[], loadMa: number): DeviceSpec[] => [
  ...ratings.map((ma) => supply(ma)),
  consumer(1, loadMa),
];

const stock = (...entries: readonly (number | (Partial<Policy['stock'][number]> & { ratingMa: number }))[]) => ({
  stock: entries.map((entry): Policy['stock'][number] =>
    typeof entry === 'number' ? { ratingMa: entry, kinds: ['plain'] } : { kinds: ['plain'], ...entry },
  ),
});

const sheet = (entry: object, policy: Partial<Policy>, devices: readonly DeviceSpec[]): PlantSpec => ({
  ...only(devices, policy),
  sheet: { segments: [{ segment: '1.1', ...entry }] },
});

describe('what carries the load', () => {
  it.each([
    // The target is 80 %: 128, 256, 512 and 1024 mA of the usual ratings.
    ['stays at exactly the target', only(fed([640], 512)), { action: 'stays', keep: [640], add: [], margin: 0 }],
    ['is added to beyond it', only(fed([640], 512.001)), { action: 'add', keep: [640], add: [160], margin: 127.999 }],
    ['is ordered where there is none', only(fed([], 128)), { action: 'order', add: [160], margin: 0 }],
    ['is ordered a size larger beyond', only(fed([], 128.001)), { action: 'order', add: [320] }],
    ['stays though it is far too large', only(fed([1280], 10)), { action: 'stays', keep: [1280] }],
    ['is one large unit rather than two small ones', only(fed([], 600)), { action: 'order', add: [1280] }],
    // 640 + 640 and 1280 alike stand at 3 A at the most; 1280 with anything beyond it.
    ['ends at 1280 mA', only(fed([], 1024)), { action: 'order', add: [1280], margin: 0 }],
    ['is split beyond', only(fed([], 1024.001)), { action: 'split' }],
    [
      'is never more than 3 A in a short circuit',
      only(fed([960], 769)),
      { action: 'replace', remove: [960], add: [1280] },
    ],
    [
      'counts what the policy plans',
      only(fed([640], 500), { growth: [{ line: '*', devices: 1, reserveMa: 2 }] }),
      { action: 'stays', margin: 0 },
    ],
    [
      'counts one microampere more of it',
      only(fed([640], 500), { growth: [{ line: '*', devices: 1, reserveMa: 2.001 }] }),
      { action: 'add' },
    ],
    [
      'counts what is drawn beside the bus',
      sheet({ auxiliaryLoad: '12 mA' }, {}, fed([640], 500)),
      { action: 'stays', margin: 0 },
    ],
    ['counts a milliampere more of it', sheet({ auxiliaryLoad: '13 mA' }, {}, fed([640], 500)), { action: 'add' }],
    [
      'counts what the sheet plans',
      sheet({ planned: [{ devices: 2, current: '7 mA' }] }, {}, fed([640], 500)),
      { action: 'add', margin: 126 },
    ],
    [
      'is at most two central supplies',
      only(fed([160, 160, 160], 100)),
      { action: 'remove', keep: [160, 160], remove: [160] },
    ],
    [
      'loses one where two drive more than 3 A',
      only(fed([1280, 160], 100)),
      { action: 'remove', keep: [160], remove: [1280] },
    ],
    [
      'counts decentral supplies and leaves them alone',
      only(fed([80, 80], 129)),
      { action: 'add', keep: [], add: [160] },
    ],
    ['is the decentral supplies alone', only(fed([80, 80], 128)), { action: 'stays', keep: [], add: [] }],
    ['is not bought decentral', only(fed([], 40), stock(80, 320)), { action: 'order', add: [320] }],
    [
      'does without a supply of unknown rating',
      only(fed([undefined], 100)),
      { action: 'replace', keep: [], remove: [null], add: [160] },
    ],
    [
      'keeps a coupler that is a supply as well',
      only([combined(320), consumer(1, 400)]),
      { action: 'add', add: [320] },
    ],
  ])('%s', async (_, plant, expected) => {
    expect(await said(plant)).toMatchObject(expected);
  });

  it('says of an unknown rating that the label decides', async () => {
    expect((await proposed(only(fed([undefined], 100)))).conditions).toContainEqual(
      expect.stringContaining('read its label'),
    );
    expect(await proposed(only(fed([undefined, 640], 100)))).toMatchObject({
      action: 'none',
      because: expect.stringContaining('its label decides'),
    });
  });

  it('says what becomes of decentral supplies, and of couplers', async () => {
    const { conditions } = await proposed(only(fed([80, 80], 129)));
    expect(conditions).toContainEqual('Decentral supplies stay as they are: Supply, Supply.');
    expect((await proposed(only([combined(320), consumer(1, 400)]))).conditions).toContainEqual(
      expect.stringContaining('is the coupler as well, so it stays'),
    );
  });

  it('tells of chokes where there are two, and of the mains where anything is changed', async () => {
    expect((await proposed(only(fed([640], 600)))).conditions).toEqual([
      'The chokes of the two supplies at least 200 m of cable apart, or one choke for both.',
      'The mains side is work for a licensed electrician under the local code.',
    ]);
    expect((await proposed(only(fed([], 600)))).conditions).toHaveLength(1);
    expect((await proposed(only(fed([640], 500)))).conditions).toEqual([]);
  });

  it('tells what would do as well, with its margin', async () => {
    expect((await proposed(only(fed([640], 600)))).others.map(told)).toEqual([
      { keep: [640], remove: [], add: [320], margin: 168 },
      { keep: [640], remove: [], add: [640], margin: 424 },
      { keep: [], remove: [640], add: [1280], margin: 424 },
    ]);
  });
});

describe('where supplies have to report', () => {
  const reporting = (ma: number): DeviceSpec => ({
    ma,
    name: 'R',
    address: 200,
    is: { isPowerSupply: true, hasApplicationProgram: true },
  });
  const wanting = (devices: readonly DeviceSpec[], policy: Partial<Policy> = {}) =>
    sheet({ monitoring: true }, policy, devices);

  it.each([
    ['a plain supply is replaced', wanting(fed([640], 100)), { action: 'replace', remove: [640], add: [640] }],
    ['a reporting one stays', wanting([reporting(640), consumer(1, 100)]), { action: 'stays' }],
    ['one that has been asked nothing stays', only(fed([640], 100)), { action: 'stays' }],
    [
      'two of them may do it',
      wanting(fed([], 600), stock(1280, { ratingMa: 640, kinds: ['reporting'] })),
      { action: 'order', add: [640, 640] },
    ],
    [
      'beyond these the segment is split',
      wanting(fed([], 1025), stock({ ratingMa: 640, kinds: ['reporting'] })),
      { action: 'split' },
    ],
  ])('%s', async (_, plant, expected) => {
    expect(await said(plant)).toMatchObject(expected);
  });

  it('buys no other kind', async () => {
    const { choice } = await proposed(wanting(fed([], 100)));
    expect(choice?.added.map(({ kind }) => kind)).toEqual(['reporting']);
  });

  it.each([
    ['none is in stock', wanting(fed([], 100), stock(640)), /the stock has none that does/],
    ['a decentral supply does not', wanting(fed([80, 640], 100)), /which is decentral, does not/],
  ])('proposes nothing where %s', async (_, plant, because) => {
    expect(await proposed(plant)).toMatchObject({ action: 'none', because: expect.stringMatching(because) });
  });
});

describe('where a segment is critical', () => {
  const critical = (devices: readonly DeviceSpec[], policy: Partial<Policy> = {}) =>
    sheet({ critical: true }, policy, devices);

  it.each([
    ['the smaller of two carries exactly the load', critical(fed([320, 640], 320)), { action: 'stays' }],
    [
      'more than it carries needs a larger one',
      critical(fed([320, 640], 320.001)),
      { action: 'replace', keep: [640], add: [640] },
    ],
    ['one is never enough', critical(fed([640], 100)), { action: 'add', keep: [640], add: [160] }],
    ['two are ordered', critical(fed([], 160)), { action: 'order', add: [160, 160] }],
    ['640 mA are the most', critical(fed([], 640)), { action: 'order', add: [640, 640] }],
    ['beyond, it is split', critical(fed([], 640.001)), { action: 'split' }],
  ])('%s', async (_, plant, expected) => {
    expect(await said(plant)).toMatchObject(expected);
  });

  it('asks for two mains circuits or a battery', async () => {
    expect((await proposed(critical(fed([320, 640], 320)))).conditions).toEqual([
      'Two supplies on two mains circuits, or backed by a battery.',
    ]);
  });

  it.each([
    [
      'one that fits',
      { ratingMa: 640, kinds: ['redundant'] as const },
      [
        ['redundant', 640],
        ['redundant', 640],
      ],
    ],
    [
      'none that fits',
      { ratingMa: 1280, kinds: ['redundant'] as const },
      [
        ['plain', 160],
        ['plain', 160],
      ],
    ],
  ])('buys redundant supplies where the stock has %s', async (_, { ratingMa, kinds }, expected) => {
    const { choice } = await proposed(critical(fed([], 100), stock(160, { ratingMa, kinds: [...kinds] })));
    expect(choice?.added.map(({ kind, ratingUa }) => [kind, toMa(ratingUa)])).toEqual(expected);
  });
});

describe('with prices', () => {
  const priced = stock({ ratingMa: 160, price: 90 }, { ratingMa: 320, price: 60 }, { ratingMa: 640, price: 125 });

  it.each([
    ['what costs least is bought', only(fed([], 100), priced), { add: [320] }],
    ['two small ones may be cheaper than a large one', only(fed([], 500), priced), { add: [320, 320] }],
    ['what is there stays', only(fed([640], 100), priced), { action: 'stays', keep: [640] }],
    [
      'a price that is lacking leaves the smallest first',
      only(fed([], 100), { stock: [...priced.stock, ...stock(1280).stock] }),
      { add: [160] },
    ],
  ])('%s', async (_, plant, expected) => {
    expect(await said(plant)).toMatchObject(expected);
  });

  it('adds up what is bought', async () => {
    expect((await proposed(only(fed([], 500), priced))).choice?.priceHundredths).toBe(12_000);
    expect((await proposed(only(fed([], 500)))).choice?.priceHundredths).toBeNull();
  });

  it('of two entries of a rating takes the cheaper', async () => {
    const both = stock(
      { ratingMa: 640, price: 20, orderNumber: 'A' },
      { ratingMa: 640, price: 19.99, orderNumber: 'B' },
    );
    expect((await proposed(only(fed([], 100), both))).choice?.added).toMatchObject([
      { orderNumber: 'B', priceHundredths: 1999 },
    ]);
  });
});

describe('with a site sheet', () => {
  const runs = (...lengths: readonly number[]) =>
    lengths.map((length, at) => ({ from: `p${at}`, to: `p${at + 1}`, length: `${length} m` }));
  const along = (lengths: readonly number[], loadMa: number, more: object = {}): PlantSpec =>
    sheet(
      {
        cable: '0.8 mm pair',
        runs: runs(...lengths),
        places: [
          { at: 'p0', devices: ['Supply'] },
          { at: `p${lengths.length}`, devices: ['1.1.1'] },
        ],
        ...more,
      },
      {},
      fed([640], loadMa),
    );

  // Least case: 28 V less 1.5 V of the choke leave 5.5 V of drop to 21 V; 73.2 Ω/km × 0.3 A = 21.96 V/km: 250.455 m.
  it.each([
    ['stays where the voltage just holds', along([250.4], 300), 'stays'],
    ['is added to where it just does not', along([250.5], 300), 'add'],
    ['stays where it is not known', sheet({ totalLength: '900 m' }, {}, fed([640], 300)), 'stays'],
    [
      'is added to for what is planned at the end',
      along([250.4], 300, { planned: [{ devices: 1, current: '1 mA', at: 'p1' }] }),
      'add',
    ],
  ])('%s', async (_, plant, action) => {
    expect((await proposed(plant)).action).toBe(action);
  });

  it('puts the second supply where the lowest voltage is the best, far enough from the first', async () => {
    const { choice, conditions } = await proposed(along([150, 150, 100], 300));
    expect(choice?.placings).toEqual([{ at: 'p3', sharesChoke: false }]); // of p2, at 300 m, and p3, where the load is
    expect(choice?.lowest).toMatchObject({ isDecided: true });
    expect(conditions[0]).toBe(
      'The second supply at p3, at least 200 m of cable from the other; each with its own choke.',
    );
  });

  it('shares the choke where nothing on the cable is far enough', async () => {
    const { choice, conditions } = await proposed(along([199.9], 0, { auxiliaryLoad: '513 mA' }));
    expect(choice?.placings).toEqual([{ at: 'p0', sharesChoke: true }]);
    expect(conditions[0]).toContain('One choke for both');
    expect((await proposed(along([200], 0, { auxiliaryLoad: '513 mA' }))).choice?.placings[0]?.sharesChoke).toBe(false);
  });

  it('splits where every choice leaves too little at the end', async () => {
    const apart = {
      places: [
        { at: 'p0', devices: ['Supply'] },
        { at: 'p2', devices: ['1.1.1'] },
      ],
    };
    expect((await proposed(along([199, 0, 400], 500, apart))).action).toBe('add');
    const star = sheet(
      {
        cable: '0.8 mm pair',
        runs: [1, 2, 3].map((arm) => ({ from: 'p0', to: `p${arm}`, length: '900 m' })),
        places: [
          { at: 'p0', devices: ['Supply'] },
          ...[1, 2, 3].map((arm) => ({ at: `p${arm}`, devices: [`1.1.${arm}`] })),
        ],
      },
      {},
      [supply(640), consumer(1, 150), consumer(2, 150), consumer(3, 150)],
    );
    expect(await proposed(star)).toMatchObject({ action: 'split', because: expect.stringContaining('less than 21 V') });
  });

  it('says where the voltage is open', async () => {
    expect((await proposed(sheet({ totalLength: '900 m' }, {}, fed([640], 300)))).conditions).toEqual([
      expect.stringContaining('Whether every device gets 21 V is open'),
    ]);
  });

  it('puts the first supply of a segment in the middle of the cable', async () => {
    const plant = sheet(
      { cable: '0.8 mm pair', runs: runs(100, 100, 100, 100), places: [{ at: 'p4', devices: ['1.1.1'] }] },
      {},
      fed([], 100),
    );
    expect((await proposed(plant)).choice?.placings).toEqual([{ at: 'p2', sharesChoke: null }]);
  });
});

describe('where several segments share supplies', () => {
  const shared = (fedBy: readonly string[]): PlantSpec => ({
    lines: [
      { line: '1.1', segments: [[{ ...supply(640), name: 'A' }, { ...supply(320), name: 'B' }, consumer(1, 500)]] },
      { line: '1.2', segments: [[consumer(1, 400)]] },
    ],
    sheet: { segments: [{ segment: '1.2', fedBy }] },
  });

  it('chooses for them together where they share all', async () => {
    const plant = shared(['A', 'B']);
    expect(await said(plant)).toMatchObject({ action: 'replace', keep: [640], remove: [320], add: [640], margin: 124 });
    expect(await proposed(plant, '1.2')).toEqual(await proposed(plant));
    expect((await proposed(plant)).segments.map(segmentLabel)).toEqual(['1.1', '1.2']);
    expect((await proposed(plant)).conditions[0]).toBe('One choice for lines 1.1, 1.2, which share their supplies.');
  });

  it('proposes nothing where they share some', async () => {
    for (const label of ['1.1', '1.2']) {
      expect(await proposed(shared(['A']), label)).toMatchObject({
        action: 'none',
        because: expect.stringContaining('fed by some'),
      });
    }
  });
});

describe('where nothing can be said', () => {
  it.each([
    ...UNPOWERED.map(
      ([medium, missing]) => [medium, { lines: [{ line: '1.1', medium, segments: [fed([], 10)] }] }, missing] as const,
    ),
    ['bounds that are not known', BOUNDS_UNKNOWN, BOUNDS_MISSING] as const,
    ['no load', only([supply(640)]), 'nothing hangs on the segment'] as const,
    [
      'a choke without a supply',
      only([choke(), consumer(1, 10)]),
      'the supply that feeds the segment is not known',
    ] as const,
    [
      'nine decentral supplies',
      only(fed(Array(9).fill(80), 10)),
      '9 decentral supplies stand on the segment, where 8 are allowed; they are left alone here',
    ] as const,
    [
      'seventeen central supplies',
      only(fed(Array(17).fill(160), 10)),
      '17 central supplies stand on the segment, where 2 are allowed: which of them are there has to be looked at on site',
    ] as const,
    [
      'three couplers that are supplies',
      only([combined(320), combined(320, 1), combined(320, 2), consumer(9, 10)]),
      '3 supplies that are couplers as well stand on the segment, where 2 central ones are allowed',
    ] as const,
    [
      'a coupler of unknown rating',
      only([combined(), consumer(1, 10)]),
      'the rating of 1.1.0 Combined, which is the coupler as well, is not declared: its label decides',
    ] as const,
  ])('%s', async (_, plant, because) => {
    expect(await proposed(plant)).toMatchObject({ action: 'none', because, choice: null });
  });
});
