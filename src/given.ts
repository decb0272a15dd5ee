import { createHash } from 'node:crypto';
import { DEFAULT_POLICY, type EffectivePolicy, readPolicy, withProducts } from './policy/effective.js';
import { readWaivers, type Waiver } from './policy/waivers.js';
import { readReport } from './report/read.js';
import type { Report } from './report/report.js';
import { readSheet, type SiteSheet } from './site/sheet.js';

/** What may go along with an archive, by the name of its field in a form and of its option. */
export const DOCUMENT_NAMES = ['policy', 'products', 'site', 'measured', 'waivers', 'baseline'] as const;

export type DocumentName = (typeof DOCUMENT_NAMES)[number];

/** A document as it is written. */
export interface Document {
  /** What errors call it. */
  readonly name: string;
  readonly text: string;
}

export type Documents = { readonly [name in DocumentName]?: Document };

/** A site sheet with the measured values, and what tells it from another one. */
export interface GivenSite {
  readonly sheet: SiteSheet;
  /** Digest of the sheet’s text; of both texts where measured values are given. */
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
 * @throws InputError `invalid-policy`, `invalid-product-list`, `invalid-site-sheet`,
 * `invalid-measured-values`, `invalid-waivers` or `invalid-baseline`
 */
export async function readGiven(documents: Documents, base: EffectivePolicy = DEFAULT_POLICY): Promise<Given> {
  const { policy, products, site, measured, waivers, baseline } = documents;
  const judgedBy = policy === undefined ? base : await readPolicy(policy.text, policy.name);
  return {
    policy: products === undefined ? judgedBy : withProducts(judgedBy, await readProducts(products)),
    site: await readSite(site, measured),
    waivers: waivers === undefined ? [] : await readWaivers(waivers.text, waivers.name),
    baseline: baseline === undefined ? null : readReport(baseline.text, baseline.name),
  };
}

/** What reads CSV is loaded where there is any. */
async function readSite(site: Document | undefined, measured: Document | undefined): Promise<GivenSite | null> {
  const sheet = site && (await readSheet(site.text, site.name));
  if (measured === undefined) return sheet === undefined ? null : { sheet, sha256: digest(site?.text ?? '') };
  const { readMeasured } = await import('./site/measured-list.js');
  const { emptySheet, withMeasured } = await import('./site/with-measured.js');
  return {
    sheet: withMeasured(sheet ?? emptySheet(measured.name), readMeasured(measured.text, measured.name)),
    sha256: digest(JSON.stringify([site?.text ?? null, measured.text])),
  };
}

/** What tells a text from another one: its SHA-256. */
export function digest(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}

/** What reads CSV is loaded where there is any. */
async function readProducts({ text, name }: Document) {
  const { readProductList } = await import('./policy/product-list.js');
  return readProductList(text, name);
}
