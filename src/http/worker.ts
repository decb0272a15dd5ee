import { move, transferableSymbol, valueSymbol } from 'piscina';
import { audit } from '../audit.js';
import { InputError, type InputFault } from '../errors.js';
import { type DocumentName, type Documents, readGiven } from '../given.js';
import type { Limits } from '../limits.js';
import { builtIn } from '../policy/effective.js';
import { FORMATS } from '../report/format/index.js';
import type { Asked } from './asked.js';
import { faultText } from './fault.js';
import { giveMemoryBack } from './heap.js';
import { inputProblem, type Problem } from './problems.js';

/** One audit, done on a thread of its own so that the service goes on answering. */
export interface AuditTask {
  /** What was sent, by the field of its form. */
  readonly files: Readonly<Record<string, Uint8Array>>;
  readonly asked: Asked;
  readonly limits: Limits;
}

export interface AuditDone {
  /** The report as it is sent, so that the event loop has nothing of its length to do. */
  readonly body: Uint8Array;
  readonly ruleFailures: readonly { readonly rule: string; readonly cause: string }[];
}

export type AuditOutcome = AuditDone | { readonly problem: Problem };

export default async function run(task: AuditTask): Promise<AuditOutcome> {
  try {
    return await outcomeOf(task);
  } finally {
    giveMemoryBack(); // only here is nothing of the audit in use any more but what is sent
  }
}

async function outcomeOf({ files, asked, limits }: AuditTask): Promise<AuditOutcome> {
  const ruleFailures: { rule: string; cause: string }[] = [];
  try {
    const { archive = NOTHING, ...documents } = files;
    const given = await readGiven(textsOf(documents), builtIn(asked.policy));
    const report = await audit(archive, {
      ...given,
      limits,
      onRuleFailure: (rule, cause) => ruleFailures.push({ rule, cause: faultText(cause) }),
    });
    const text = FORMATS[asked.format].format(report, { archive: asked.archiveName });
    return handedOver({ body: new TextEncoder().encode(text), ruleFailures });
  } catch (cause) {
    if (cause instanceof InputError) return { problem: inputProblem(cause) };
    throw cause;
  }
}

const NOTHING = new Uint8Array();

/** The documents as text; what is no UTF-8 is none. */
function textsOf(documents: AuditTask['files']): Documents {
  const texts = Object.entries(documents).map(([name, bytes]) => [name, { name, text: decoded(bytes, name) }]);
  return Object.fromEntries(texts);
}

function decoded(bytes: Uint8Array, name: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(NOT_READ[name as DocumentName], 'the text is no valid UTF-8', { part: name });
  }
}

const NOT_READ: { readonly [name in DocumentName]: InputFault } = {
  policy: 'invalid-policy',
  products: 'invalid-product-list',
  waivers: 'invalid-waivers',
  baseline: 'invalid-baseline',
};

/** What the pool takes to the other thread without copying the report. */
function handedOver(done: AuditDone): AuditDone {
  return move({ [transferableSymbol]: done.body.buffer, [valueSymbol]: done }) as unknown as AuditDone;
}
