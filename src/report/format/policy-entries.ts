import type { Report } from '../report.js';

type ReportPolicy = Report['policy'];

/** The keys of the values that a file of the user's has set, a policy or a list of products. */
export function changedKeys({ setBy }: Pick<ReportPolicy, 'setBy'>): string[] {
  return Object.keys(setBy).filter((key) => ['policy file', 'product list'].includes(setBy[key] ?? ''));
}

/** Entries of the policy that are for nothing in the report's plant, as a policy file would be asked for them. */
export function unusedEntries({ products, growth }: Pick<ReportPolicy, 'products' | 'growth'>): string[] {
  return [
    ...products.filter(({ devices }) => devices === 0).map(({ entry }) => `products[${entry}]`),
    ...growth.filter(({ segments }) => segments === 0).map(({ entry }) => `growth[${entry}]`),
  ];
}

/** What an entry of a list or mapping says, each with its name as in a policy file: `ratingMa` and `640`. */
export function saidIn(entry: object, number: (value: number) => string = String): [name: string, text: string][] {
  const textOf = (value: unknown) => {
    if (Array.isArray(value)) return value.join('/');
    return typeof value === 'number' ? number(value) : String(value);
  };
  return Object.entries(entry)
    .filter(([, value]) => value !== undefined)
    .map(([name, value]) => [name, textOf(value)]);
}
