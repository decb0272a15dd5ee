import { createHash } from 'node:crypto';
import { DEFAULT_POLICY, type EffectivePolicy, readPolicy, withProducts } from './policy/effective.js';
import { readWaivers, type Waiver } from './policy/waivers.js';
import { readReport } from './report/read.js';
import type { Report } from './report/report.js';
import { readSheet, type SiteSheet } from './site/sheet.js';

/** What may go along with an archive, by the name of its field in a form and of its option. */
export const DOCUMENT_NAMES = ['policy', 'products', 'site', 'waivers', 'baseline'] as const;

export type DocumentName = (typeof DOCUMENT_NAMES)[number];

/** A document as it is written. */
export interface Document {
  /** What errors call it. */
  readonly name: string;
  readonly text: string;
}

export type Documents = { readonly [name in DocumentName]?: Document };

/** A site sheet, and what tells it from another one. */
export interface GivenSite {
  readonly sheet: SiteSheet;
  /** Digest of its text. */
  readonly sha256: string;
}

/** What the documents say. */
export interface Given {
  readonly policy: EffectivePolicy;
  readonly site: GivenSite | null;
  readonly waivers: readonly Waiver[];
  readonly baseline: Report | null;
}

/**
 * Reads what goes along with an archive.
 * @param base the policy where none is given
 * @throws InputError `invalid-policy`, `invalid-product-list`, `invalid-site-sheet`, `invalid-waivers` or `invalid-baseline`
 */
export async function readGiven(documents: Documents, base: EffectivePolicy = DEFAULT_POLICY): Promise<Given> {
  const { policy, products, site, waivers, baseline } = documents;
  const judgedBy = policy === undefined ? base : await readPolicy(policy.text, policy.name);
  return {
    policy: products === undefined ? judgedBy : withProducts(judgedBy, await readProducts(products)),
    site: site === undefined ? null : await readSite(site),
    waivers: waivers === undefined ? [] : await readWaivers(waivers.text, waivers.name),
    baseline: baseline === undefined ? null : readReport(baseline.text, baseline.name),
  };
}

async function readSite({ text, name }: Document): Promise<GivenSite> {
  return { sheet: await readSheet(text, name), sha256: createHash('sha256').update(text).digest('hex') };
}

/** What reads CSV is loaded where there is any. */
async function readProducts({ text, name }: Document) {
  const { readProductList } = await import('./policy/product-list.js');
  return readProductList(text, name);
}
