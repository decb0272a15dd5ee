import { move, transferableSymbol, valueSymbol } from 'piscina';
import { audit } from '../audit.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { FORMATS, type FormatName } from '../report/format/index.js';
import { faultText } from './fault.js';
import { giveMemoryBack } from './heap.js';
import { inputProblem, type Problem } from './problems.js';

/** One audit, done on a thread of its own so that the service goes on answering. */
export interface AuditTask {
  readonly file: Uint8Array;
  readonly format: FormatName;
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

async function outcomeOf({ file, format, limits }: AuditTask): Promise<AuditOutcome> {
  const ruleFailures: { rule: string; cause: string }[] = [];
  try {
    const report = await audit(file, {
      limits,
      onRuleFailure: (rule, cause) => ruleFailures.push({ rule, cause: faultText(cause) }),
    });
    return handedOver({
      body: new TextEncoder().encode(FORMATS[format].format(report, { archive: 'archive' })),
      ruleFailures,
    });
  } catch (cause) {
    if (cause instanceof InputError) return { problem: inputProblem(cause) };
    throw cause;
  }
}

/** What the pool takes to the other thread without copying the report. */
function handedOver(done: AuditDone): AuditDone {
  return move({ [transferableSymbol]: done.body.buffer, [valueSymbol]: done }) as unknown as AuditDone;
}
