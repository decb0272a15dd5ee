import { type AuditOptions, audit, auditPlan } from '../audit.js';
import { readChanges } from '../changes/changes.js';
import { compare } from '../compare.js';
import { InputError, type InputFault } from '../errors.js';
import { DOCUMENT_NAMES, type Document, type DocumentName, type Documents, type Given, readGiven } from '../given.js';
import { builtIn, DEFAULT_POLICY, type EffectivePolicy, readPolicy } from '../policy/effective.js';
import { COMPARISON_FORMATS, type ComparisonFormatName } from '../report/compare/formats.js';
import { FORMATS, type FormatName, wordsFor } from '../report/format/index.js';
import { summaryLine } from '../report/format/text.js';
import type { Report } from '../report/report.js';
import { whatIf } from '../what-if.js';
import type { Words } from '../words/words.js';
import type { Asked } from './asked.js';

/** What was sent, by the field of its form. */
export type Files = Readonly<Record<string, Uint8Array>>;

type Options = Pick<AuditOptions, 'limits' | 'onRuleFailure' | 'onProgress'>;

/** What was made of files, as a text or as bytes in the format that is asked for. */
export interface Made {
  readonly answer: string | Uint8Array;
  /** A report in a sentence, in the language of the answer; null where it is no report. */
  readonly summary: string | null;
}

/** What the service does with files, by name. */
export const WORKS = { audit: auditOf, plan: planOf, comparison: comparisonOf, whatIf: whatIfOf } as const;

export type Work = keyof typeof WORKS;

async function auditOf(files: Files, asked: Asked, options: Options): Promise<Made> {
  const given = await judgedBy(files, asked);
  const { asOf } = asked;
  return written(asked, (words) => audit(fileOf(files, 'archive'), { ...given, asOf, words, ...options }));
}

async function planOf(files: Files, asked: Asked, options: Options): Promise<Made> {
  const { policy, site } = await judgedBy(files, asked);
  const plan = { name: 'plan', text: decoded(fileOf(files, 'plan'), 'plan', 'invalid-plan') };
  return written(asked, (words) => auditPlan(plan, { policy, site, words, ...options }));
}

/** A report in the format and the language that are asked for. */
async function written(asked: Asked, report: (words: Words) => Promise<Report>): Promise<Made> {
  const format = asked.format as FormatName;
  const words = await wordsFor(format, asked.language);
  const made = await report(words);
  const answer = await FORMATS[format].format(made, { archive: asked.archiveName, words });
  return { answer, summary: summaryLine(made, words) };
}

async function comparisonOf(files: Files, asked: Asked, options: Options): Promise<Made> {
  const { site, waivers } = await readGiven({
    ...documentOf('site', files.site),
    ...documentOf('waivers', files.waivers),
  });
  const both = files.policy === undefined ? policyAsked(asked) : await policyOf(files.policy, 'policy');
  const comparison = await compare({
    old: fileOf(files, 'old'),
    new: fileOf(files, 'new'),
    oldPolicy: files.oldPolicy === undefined ? both : await policyOf(files.oldPolicy, 'oldPolicy'),
    newPolicy: files.newPolicy === undefined ? both : await policyOf(files.newPolicy, 'newPolicy'),
    site,
    waivers,
    asOf: asked.asOf,
    ...options,
  });
  return { answer: COMPARISON_FORMATS[asked.format as ComparisonFormatName].format(comparison), summary: null };
}

async function whatIfOf(files: Files, asked: Asked, options: Options): Promise<Made> {
  const { policy, site, waivers } = await judgedBy(files, asked);
  const text = decoded(fileOf(files, 'changes'), 'changes', 'invalid-changes');
  const changes = await readChanges(text, 'changes');
  const archive = fileOf(files, 'archive');
  const comparison = await whatIf({ archive, changes, policy, site, waivers, asOf: asked.asOf, ...options });
  return { answer: COMPARISON_FORMATS[asked.format as ComparisonFormatName].format(comparison), summary: null };
}

/** What the documents beside it say; a form holds none that its route does not take. */
async function judgedBy(files: Files, asked: Asked): Promise<Given> {
  const documents: Documents = Object.assign({}, ...DOCUMENT_NAMES.map((name) => documentOf(name, files[name])));
  return readGiven(documents, policyAsked(asked) ?? DEFAULT_POLICY);
}

function policyAsked({ policy }: Asked): EffectivePolicy | undefined {
  return policy === null ? undefined : builtIn(policy);
}

async function policyOf(bytes: Uint8Array, name: string): Promise<EffectivePolicy> {
  return readPolicy(decoded(bytes, name, 'invalid-policy'), name);
}

/** The route refuses a request without it. */
function fileOf(files: Files, field: string): Uint8Array {
  const file = files[field];
  if (file === undefined) throw new Error(`no file in the field ${field}`);
  return file;
}

const NOT_READ: { readonly [name in DocumentName]: InputFault } = {
  policy: 'invalid-policy',
  products: 'invalid-product-list',
  site: 'invalid-site-sheet',
  measured: 'invalid-measured-values',
  waivers: 'invalid-waivers',
  baseline: 'invalid-baseline',
};

/** A document as text; what is no UTF-8 is none. */
function documentOf(name: DocumentName, bytes: Uint8Array | undefined): { readonly [name in DocumentName]?: Document } {
  return bytes === undefined ? {} : { [name]: { name, text: decoded(bytes, name, NOT_READ[name]) } };
}

function decoded(bytes: Uint8Array, name: string, fault: InputFault): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(fault, 'the text is no valid UTF-8', { part: name });
  }
}
