import { createHash } from 'node:crypto';
import { checkDocument, DocumentError, parseDocument } from '../documents/document.js';
import { InputError } from '../errors.js';
import { BUILT_IN, COMMON_PRACTICE, POLICY_SOURCES, type Source } from './built-in.js';
import type { ProductOverride } from './overrides.js';
import { BUILT_IN_NAMES, type BuiltInName, type Policy, type PolicyKey, policyFileSchema } from './policy.js';

/** Who set a value: one of the built-in policies, or a file. */
export type SetBy = BuiltInName | 'policy file' | 'product list';

/** A policy with all of its values, and who set each. */
export interface EffectivePolicy {
  readonly extends: BuiltInName;
  readonly values: Policy;
  readonly setBy: { readonly [key in PolicyKey]: SetBy };
}

export const DEFAULT_POLICY = builtIn('common-practice');

/** A built-in policy as it is. */
export function builtIn(name: BuiltInName): EffectivePolicy {
  return layered(name, [
    ['common-practice', COMMON_PRACTICE],
    [name, BUILT_IN[name]],
  ]);
}

/**
 * Reads a policy file, in YAML or JSON.
 * @param name what errors call the file
 * @throws InputError `invalid-policy` with path, value and what is allowed for each fault
 */
export async function readPolicy(source: string, name: string): Promise<EffectivePolicy> {
  try {
    const {
      $schema,
      extends: base = 'common-practice',
      ...own
    } = checkDocument(policyFileSchema, await parseDocument(source));
    const policy = layered(base, [
      ['common-practice', COMMON_PRACTICE],
      [base, BUILT_IN[base]],
      ['policy file', own],
    ]);
    const contradictions = contradictionsOf(policy);
    if (contradictions.length > 0) throw new DocumentError(contradictions);
    return policy;
  } catch (cause) {
    throw cause instanceof DocumentError ? new InputError('invalid-policy', cause.message, { part: name }) : cause;
  }
}

/** A policy by the name of a built-in one. */
export function isBuiltIn(name: string): name is BuiltInName {
  return BUILT_IN_NAMES.some((one) => one === name);
}

/** The policy with entries about products that go before its own. */
export function withProducts(policy: EffectivePolicy, products: readonly ProductOverride[]): EffectivePolicy {
  if (products.length === 0) return policy;
  return {
    ...policy,
    values: { ...policy.values, products: [...products, ...policy.values.products] },
    setBy: { ...policy.setBy, products: 'product list' },
  };
}

/** Where a value is from: the source of a built-in one; of one that was set by hand, that. */
export function sourceOf(key: PolicyKey, { setBy }: EffectivePolicy): Source {
  const by = setBy[key];
  if (by !== 'policy file' && by !== 'product list') return POLICY_SOURCES[key];
  return { basis: 'set by hand', source: `set by hand in the ${by} (${key})` };
}

/** SHA-256 over the effective policy: two reports with the same digest judged by the same measures. */
export function policyDigest(values: Policy): string {
  return createHash('sha256')
    .update(JSON.stringify(ordered(values)))
    .digest('hex');
}

type Layer = readonly [by: SetBy, values: { readonly [key in PolicyKey]?: Policy[key] | undefined }];

/** Later layers go before earlier ones; severities are told apart by rule. */
function layered(base: BuiltInName, layers: readonly Layer[]): EffectivePolicy {
  let values: Policy = COMMON_PRACTICE;
  const setBy = {} as Record<PolicyKey, SetBy>;
  for (const [by, layer] of layers) {
    const given = Object.entries(layer).filter(([, value]) => value !== undefined);
    for (const [key] of given) setBy[key as PolicyKey] = by;
    const severities = { ...values.severities, ...layer.severities };
    values = { ...values, ...Object.fromEntries(given), severities };
  }
  return { extends: base, values, setBy };
}

/** What two values of a policy cannot both be; the file may have set only one of them. */
function contradictionsOf({ values, setBy }: EffectivePolicy): string[] {
  const rising: readonly (readonly [PolicyKey, PolicyKey])[] = [
    ['assumedLowMa', 'assumedCurrentMa'],
    ['assumedCurrentMa', 'assumedHighMa'],
    ['devicesClassic', 'devicesGreatest'],
    ['leastSupplyV', 'typicalSupplyV'],
    ['leastDeviceV', 'leastSupplyV'],
    ['hardDeviceV', 'leastDeviceV'],
  ];
  const told = (key: PolicyKey) => `${key} (${values[key]}, set by ${setBy[key]})`;
  return rising
    .filter(([least, most]) => values[least] > values[most])
    .map(([least, most]) => `${told(least)} is above ${told(most)}; set both`);
}

/** The same with the keys of every mapping in order, so that it is written in one way only. */
function ordered(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(ordered);
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1));
  return Object.fromEntries(entries.map(([key, inner]) => [key, ordered(inner)]));
}
