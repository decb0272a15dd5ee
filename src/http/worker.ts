import { audit } from '../audit.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import { FORMATS, type FormatName } from '../report/format/index.js';
import { faultText } from './fault.js';
import { inputProblem, type Problem } from './problems.js';

/** One audit, done on a thread of its own so that the service goes on answering. */
export interface AuditTask {
  readonly file: Uint8Array;
  readonly format: FormatName;
  readonly limits: Limits;
}

export type AuditOutcome =
  | { readonly body: string; readonly ruleFailures: readonly { readonly rule: string; readonly cause: string }[] }
  | { readonly problem: Problem };

export default async function run({ file, format, limits }: AuditTask): Promise<AuditOutcome> {
  const ruleFailures: { rule: string; cause: string }[] = [];
  try {
    const report = await audit(file, {
      limits,
      onRuleFailure: (rule, cause) => ruleFailures.push({ rule, cause: faultText(cause) }),
    });
    return { body: FORMATS[format].format(report), ruleFailures };
  } catch (cause) {
    if (cause instanceof InputError) return { problem: inputProblem(cause) };
    throw cause;
  }
}
