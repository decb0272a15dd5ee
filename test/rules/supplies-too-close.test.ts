import { describe, expect, it } from 'vitest';
import { suppliesTooClose } from '../../src/rules/supplies-too-close.js';
import type { SegmentSite, SupplySite } from '../../src/site/site.js';
import { check, choke, consumer, type DeviceSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';
import { lineLayout, NO_CABLE, notOnSite, onSite } from '../support/site-plants.js';

type Choke = SupplySite['choke'];

const TWO = [supply(320), supply(640), consumer(1, 10)];

/** Two supplies, by default each with a choke of its own. */
function apart(entry: Partial<SegmentSite>, chokes: readonly Choke[] = ['own', 'own'], devices = TWO, limitM = 200) {
  const supplies = Object.fromEntries(chokes.map((one, at) => [at + 1, { choke: one }]));
  return onSite(devices, entry, { supplies, policy: { chokesApartM: limitM } });
}

const bothAt = (lengthM: number): Partial<SegmentSite> => ({ layout: lineLayout([lengthM, 50], [0, 1, 2]) });
const with80 = (rating: number): DeviceSpec[] => [supply(640), supply(rating), consumer(1, 10)];

/** At least 200 m of cable between chokes, none where two supplies share one (volume 9/2 §2.11, §5.11). */
describe('supplies-too-close', () => {
  it.each([
    ['exactly 200 m apart', apart(bothAt(200))],
    ['200 m apart where the chokes are not stated', apart(bothAt(200), [])],
    ['exactly the policy’s own limit', apart(bothAt(50), ['own', 'own'], TWO, 50)],
    ['a policy that wants no distance, with nothing told', apart({}, [], TWO, 0)],
    ['a shared choke', apart(bothAt(1), ['shared', 'shared'])],
    ['one that shares the other’s', apart(bothAt(1), [null, 'shared'])],
    ['one supply', apart({ totalLengthM: 10 }, ['own'], [supply(640), consumer(1, 10)])],
    ['no supply', apart({ totalLengthM: 10 }, [], [consumer(1, 10)])],
    ['a decentral one of 80 mA beside a central one', apart(bothAt(1), ['own', 'own'], with80(80))],
  ])('passes %s', (_, plant) => {
    expect(said(suppliesTooClose, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds 1 mm less, and says by how much', () => {
    const plant = apart(bothAt(199.999));
    expect(said(suppliesTooClose, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', distanceM: 199.999, isExact: true, limitM: 200, missingM: 0.001 },
          message: expect.stringMatching(
            / have 199\.999 m of cable .* at least 200 m are wanted: 0\.001 m too little\.$/,
          ),
          remedy: expect.stringContaining('0.001 m of cable or more away'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
    expect(check(suppliesTooClose, plant).findings[0]?.measure).toEqual({
      quantity: 'cable between supplies',
      unit: 'm',
      value: 199.999,
      limit: 200,
      holds: 'at least',
      setBy: 'chokesApartM',
    });
  });

  it.each([
    ['1 mm below the policy’s own limit', apart(bothAt(49.999), ['own', 'own'], TWO, 50), { distanceM: 49.999 }],
    ['one of 80.001 mA, no longer decentral', apart(bothAt(1), ['own', 'own'], with80(80.001)), { distanceM: 1 }],
  ])('finds %s', (_, plant, facts) => {
    expect(said(suppliesTooClose, plant).found).toMatchObject([{ facts }]);
  });

  it('finds supplies on less cable than 200 m, wherever they sit', () => {
    expect(said(suppliesTooClose, apart({ totalLengthM: 199.999 })).found).toMatchObject([
      { facts: { distanceM: 199.999, isExact: false }, message: expect.stringContaining('at most 199.999 m of cable') },
    ]);
  });

  it.each([
    [
      'a choke that is not stated, 1 mm too close',
      apart(bothAt(199.999), ['own']),
      'whether the supplies share a choke',
    ],
    [
      'a supply that is not placed',
      apart({ layout: lineLayout([300, 50], [0, null, 2]) }),
      'where 1 of 2 supplies sit (at most 350 m so far)',
    ],
    [
      'exactly 200 m of cable',
      apart({ totalLengthM: 200 }),
      expect.stringMatching(/^the runs .* \(at most 200 m so far\)$/),
    ],
    ['nothing told', apart({}), expect.stringMatching(/; the length of all its cable$/)],
    [
      'an unrated one, which may be decentral',
      apart(bothAt(1), ['own', 'own'], [supply(640), supply(), consumer(1, 10)]),
      'the rating of a supply is not declared',
    ],
    [
      'a choke fed from elsewhere',
      apart({ totalLengthM: 10 }, [], [choke(), consumer(1, 10)]),
      'the supply that feeds the segment is not known',
    ],
  ])('skips %s', (_, plant, missing) => {
    const { findings, coverage } = check(suppliesTooClose, plant);
    expect(findings).toEqual([]);
    expect(coverage).toMatchObject([{ status: 'skipped', missing }]);
  });

  it.each(notOnSite(TWO, { totalLengthM: 10 }, NO_CABLE))('skips %s', (_, plant, missing) => {
    expect(said(suppliesTooClose, plant)).toEqual({ found: [], coverage: { '1.1': `skipped: ${missing}` } });
  });
});
