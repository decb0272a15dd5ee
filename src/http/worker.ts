import { move, transferableSymbol, valueSymbol } from 'piscina';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import type { Asked } from './asked.js';
import { faultText } from './fault.js';
import { giveMemoryBack } from './heap.js';
import { inputProblem, type Problem } from './problems.js';
import { type Files, WORKS, type Work } from './works.js';

/** An audit or a comparison, done on a thread of its own so that the service goes on answering. */
export interface AuditTask {
  readonly work: Work;
  /** What was sent, by the field of its form. */
  readonly files: Files;
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

async function outcomeOf({ work, files, asked, limits }: AuditTask): Promise<AuditOutcome> {
  const ruleFailures: { rule: string; cause: string }[] = [];
  const onRuleFailure = (rule: string, cause: unknown) => ruleFailures.push({ rule, cause: faultText(cause) });
  try {
    const made = await WORKS[work](files, asked, { limits, onRuleFailure });
    const body = typeof made === 'string' ? new TextEncoder().encode(made) : made;
    return handedOver({ body, ruleFailures });
  } catch (cause) {
    if (cause instanceof InputError) return { problem: inputProblem(cause) };
    throw cause;
  }
}

/** What the pool takes to the other thread without copying the report. */
function handedOver(done: AuditDone): AuditDone {
  return move({ [transferableSymbol]: done.body.buffer, [valueSymbol]: done }) as unknown as AuditDone;
}
