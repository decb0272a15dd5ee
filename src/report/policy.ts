import type { Balance } from '../electrical/balance.js';
import { type EffectivePolicy, policyDigest, sourceOf } from '../policy/effective.js';
import { OverrideIndex } from '../policy/overrides.js';
import type { PolicyKey } from '../policy/policy.js';
import type { Report } from './report.js';

/** The policy as the report shows it: every value, who set it, where it is from, and what came of its products. */
export function reportPolicy(
  policy: EffectivePolicy,
  segments: Report['segments'],
  balances: readonly Balance[],
): Report['policy'] {
  const { values, setBy } = policy;
  const keys = Object.keys(values) as PolicyKey[];
  return {
    sha256: policyDigest(values),
    extends: policy.extends,
    values,
    setBy,
    sources: Object.fromEntries(keys.map((key) => [key, sourceOf(key, policy).source])),
    products: usedEntries(policy, segments),
    growth: values.growth.map((_, entry) => ({
      entry,
      segments: balances.filter(({ growth }) => growth.entry === entry).length,
    })),
  };
}

/** How many devices each entry about products is for. A device is counted once, wherever it is charged. */
function usedEntries({ values }: EffectivePolicy, segments: Report['segments']): Report['policy']['products'] {
  const index = new OverrideIndex(values.products);
  const devices = new Map<string, { orderNumber: string | null; ids: Set<string> }>();
  for (const { devices: listed } of segments) {
    for (const { productId, orderNumber, id } of values.products.length === 0 ? [] : listed) {
      if (productId === null) continue;
      const product = devices.get(productId) ?? { orderNumber, ids: new Set<string>() };
      product.ids.add(id);
      devices.set(productId, product);
    }
  }
  const used = values.products.map(({ note }, entry) => ({ entry, productIds: [] as string[], devices: 0, note }));
  const positions = new Map(values.products.map((entry, position) => [entry, position]));
  for (const [id, { orderNumber, ids }] of devices) {
    const entry = index.find({ id, orderNumber });
    const use = entry === null ? undefined : used[positions.get(entry) ?? -1];
    if (use === undefined) continue;
    use.productIds.push(id);
    use.devices += ids.size;
  }
  return used;
}
