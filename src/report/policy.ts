import type { Balance } from '../electrical/balance.js';
import { type EffectivePolicy, policyDigest, sourceOf } from '../policy/effective.js';
import type { PolicyKey } from '../policy/policy.js';
import type { Report } from './report.js';

/** The policy as the report shows it: every value, who set it, where it is from, and what came of its entries. */
export function reportPolicy(policy: EffectivePolicy, balances: readonly Balance[]): Report['policy'] {
  const { values, setBy } = policy;
  const keys = Object.keys(values) as PolicyKey[];
  return {
    sha256: policyDigest(values),
    extends: policy.extends,
    values,
    setBy,
    sources: Object.fromEntries(keys.map((key) => [key, sourceOf(key, policy).source])),
    products: usedProducts(policy, balances),
    growth: usedGrowth(policy, balances),
  };
}

/** How many devices each entry about products is for. A device is counted once, wherever it is charged. */
function usedProducts({ values }: EffectivePolicy, balances: readonly Balance[]): Report['policy']['products'] {
  const uses = new Map(values.products.map((entry) => [entry, { productIds: new Set<string>(), devices: new Set() }]));
  for (const { segment } of uses.size === 0 ? [] : balances) {
    for (const device of [...segment.devices, ...segment.loads.map((load) => load.device)]) {
      const use = device.override === null ? undefined : uses.get(device.override);
      use?.devices.add(device);
      use?.productIds.add(device.productRef ?? '');
    }
  }
  return [...uses].map(([{ note }, { productIds, devices }], entry) => {
    return { entry, productIds: [...productIds], devices: devices.size, note };
  });
}

/** For how many segments each entry about growth counts. */
function usedGrowth({ values }: EffectivePolicy, balances: readonly Balance[]): Report['policy']['growth'] {
  const uses = values.growth.map((_, entry) => ({ entry, segments: 0 }));
  for (const { growth } of balances) {
    const use = growth.entry === null ? undefined : uses[growth.entry];
    if (use !== undefined) use.segments++;
  }
  return uses;
}
