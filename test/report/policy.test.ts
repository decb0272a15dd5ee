import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { BUILT_IN, COMMON_PRACTICE, POLICY_SOURCES } from '../../src/policy/built-in.js';
import { builtIn, DEFAULT_POLICY, type EffectivePolicy, policyDigest, readPolicy } from '../../src/policy/effective.js';
import type { ProductOverride } from '../../src/policy/overrides.js';
import type { Report } from '../../src/report/report.js';
import { fixtureArchive } from '../support/archives.js';

const school = await fixtureArchive('school');

const policyOf = async (policy: EffectivePolicy): Promise<Report['policy']> => (await audit(school, { policy })).policy;

const reportWith = (products: readonly ProductOverride[]): Promise<Report> =>
  audit(school, { policy: { ...DEFAULT_POLICY, values: { ...COMMON_PRACTICE, products: [...products] } } });

/** Ids of the devices of a product in a report, wherever they are charged. */
const idsOf = ({ segments }: Report, productId: string) =>
  new Set(segments.flatMap(({ devices }) => devices.filter((one) => one.productId === productId).map(({ id }) => id)));

describe('the policy of a report', () => {
  it('is common practice where nobody says otherwise', async () => {
    const { policy } = await audit(school);
    expect(policy).toEqual({
      sha256: policyDigest(COMMON_PRACTICE),
      extends: 'common-practice',
      values: COMMON_PRACTICE,
      setBy: DEFAULT_POLICY.setBy,
      sources: Object.fromEntries(Object.entries(POLICY_SOURCES).map(([key, { source }]) => [key, source])),
      products: [],
      growth: [],
    });
  });

  it('tells of every value who set it and where it is from', async () => {
    const policy = await policyOf(await readPolicy('extends: conservative\ntargetLoad: 0.75', 'office.yaml'));
    expect(policy).toMatchObject({ extends: 'conservative', values: { ...BUILT_IN.conservative, targetLoad: 0.75 } });
    expect(policy.setBy).toMatchObject({
      targetLoad: 'policy file',
      typicalSupplyV: 'conservative',
      stock: 'common-practice',
    });
    expect(policy.sources.targetLoad).toBe('set by hand in the policy file (targetLoad)');
    expect(policy.sources.typicalSupplyV).toBe(POLICY_SOURCES.typicalSupplyV.source);
  });

  it('has the digest of what it holds', async () => {
    const { sha256, values } = await policyOf(builtIn('standard'));
    expect(sha256).toBe(policyDigest(values));
    expect(sha256).not.toBe(policyDigest(COMMON_PRACTICE));
  });
});

describe('what came of the entries about products', async () => {
  const plain = await audit(school);
  const listed = plain.segments.flatMap(({ devices }) => devices);
  const declaring = listed.find(({ origin, orderNumber }) => origin === 'declared' && orderNumber !== null);
  const [productId, orderNumber] = [declaring?.productId ?? '', declaring?.orderNumber ?? ''];
  const below = listed.find(({ chargedAs }) => chargedAs === 'coupler from below')?.productId ?? '';

  it('is how many devices each is for, by its position', async () => {
    const { policy } = await reportWith([
      { id: 'M-0000*', currentMa: 1, note: 'nobody’s' },
      { id: productId, currentMa: 7, note: 'by id' },
      { orderNumber, currentMa: 8, note: 'comes too late' },
    ]);
    expect(policy.products).toEqual([
      { entry: 0, productIds: [], devices: 0, note: 'nobody’s' },
      { entry: 1, productIds: [productId], devices: idsOf(plain, productId).size, note: 'by id' },
      { entry: 2, productIds: [], devices: 0, note: 'comes too late' },
    ]);
  });

  it('is found by order number as well', async () => {
    const { policy } = await reportWith([{ orderNumber, currentMa: 7, note: 'sheet' }]);
    expect(policy.products).toMatchObject([{ productIds: [productId], devices: idsOf(plain, productId).size }]);
  });

  it('is that of a coupler once, though it is charged on both its sides', async () => {
    const places = listed.filter((one) => one.productId === below);
    const { policy } = await reportWith([{ id: below, currentMa: 7, note: 'sheet' }]);
    expect(places.length).toBeGreaterThan(idsOf(plain, below).size);
    expect(policy.products).toMatchObject([{ productIds: [below], devices: idsOf(plain, below).size }]);
  });

  it('is every product for a pattern that is for all, and with it every device that names one', async () => {
    const report = await reportWith([{ id: '*', fanInWeight: 4, note: 'all' }]);
    const named = listed.filter((one) => one.productId !== null);
    const [use] = report.policy.products;
    expect(new Set(use?.productIds)).toEqual(new Set(named.map((one) => one.productId)));
    expect(use?.devices).toBe(new Set(named.map(({ id }) => id)).size);
  });

  it('tells two entries apart that say the same', async () => {
    const twice = { id: productId, currentMa: 7, note: 'sheet' };
    const { policy } = await reportWith([{ ...twice }, { ...twice }]);
    expect(policy.products.map(({ devices }) => devices > 0)).toEqual([true, false]);
  });
});
