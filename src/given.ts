import { DEFAULT_POLICY, type EffectivePolicy, readPolicy } from './policy/effective.js';

/** What may go along with an archive, by the name of its field in a form. */
export const DOCUMENT_NAMES = ['policy', 'products', 'waivers', 'baseline'] as const;

export type DocumentName = (typeof DOCUMENT_NAMES)[number];

/** A document as it is written. */
export interface Document {
  /** What errors call it. */
  readonly name: string;
  readonly text: string;
}

export type Documents = { readonly [name in DocumentName]?: Document };

/** What the documents say. */
export interface Given {
  readonly policy: EffectivePolicy;
}

/**
 * Reads what goes along with an archive.
 * @param base the policy where none is given
 * @throws InputError `invalid-policy`, `invalid-product-list`, `invalid-waivers` or `invalid-baseline`
 */
export async function readGiven({ policy }: Documents, base: EffectivePolicy = DEFAULT_POLICY): Promise<Given> {
  return { policy: policy === undefined ? base : await readPolicy(policy.text, policy.name) };
}
