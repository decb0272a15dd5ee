import type { MessagePort } from 'node:worker_threads';
import { move, transferableSymbol, valueSymbol } from 'piscina';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import type { Progress } from '../progress.js';
import { FORMATS, type Format, type FormatName, isForPeople } from '../report/format/index.js';
import { LANGUAGES } from '../words/language.js';
import { type Asked, contentType } from './asked.js';
import { type ReportHead, reportEvent } from './events.js';
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
  /** Where progress is told, if anybody wants to know. */
  readonly progress?: MessagePort;
}

export interface AuditDone {
  /** The report, or its event, as it is sent, so that the event loop has nothing of its length to do. */
  readonly body: Uint8Array;
  readonly ruleFailures: readonly { readonly rule: string; readonly cause: string }[];
}

export type AuditOutcome = AuditDone | { readonly problem: Problem };

export default async function run(task: AuditTask): Promise<AuditOutcome> {
  try {
    return await outcomeOf(task);
  } finally {
    task.progress?.close();
    giveMemoryBack(); // only here is nothing of the audit in use any more but what is sent
  }
}

async function outcomeOf({ work, files, asked, limits, progress }: AuditTask): Promise<AuditOutcome> {
  const ruleFailures: { rule: string; cause: string }[] = [];
  const onRuleFailure = (rule: string, cause: unknown) => ruleFailures.push({ rule, cause: faultText(cause) });
  const onProgress = progress && ((now: Progress) => progress.postMessage(now));
  try {
    const { answer, summary } = await WORKS[work](files, asked, { limits, onRuleFailure, onProgress });
    const body = asked.asEvents ? reportEvent(headOf(asked, summary), answer) : bytesOf(answer);
    return handedOver({ body, ruleFailures });
  } catch (cause) {
    if (cause instanceof InputError) return { problem: inputProblem(cause) };
    throw cause;
  }
}

function bytesOf(made: string | Uint8Array): Uint8Array {
  return typeof made === 'string' ? new TextEncoder().encode(made) : made;
}

/** Progress is told of audits only, so the format is one of the report. */
function headOf(asked: Asked, summary: string | null): ReportHead {
  const format = asked.format as FormatName;
  const { fileName }: Format = FORMATS[format];
  return {
    format,
    mediaType: contentType(format, FORMATS),
    language: isForPeople(format) ? asked.language : LANGUAGES[0],
    summary,
    ...(fileName !== undefined && { fileName }),
  };
}

/** What the pool takes to the other thread without copying the report. */
function handedOver(done: AuditDone): AuditDone {
  return move({ [transferableSymbol]: done.body.buffer, [valueSymbol]: done }) as unknown as AuditDone;
}
