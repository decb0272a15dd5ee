import { createReadStream } from 'node:fs';
import { type AuditOptions, audit } from '../audit.js';
import { InputError } from '../errors.js';
import type { Limits } from '../limits.js';
import type { Report } from '../report/report.js';
import { EXIT, type ExitCode, exitCodeOf } from './exit-code.js';
import { CallError } from './usage.js';

/** Why there is no report of a file. */
export interface Problem {
  readonly problem: string;
  readonly code: string;
}

/** What came of an archive, and the exit code for it where findings do not matter. */
export interface Audited {
  readonly outcome: Report | Problem;
  readonly exit: ExitCode;
}

/** How archives of a call are audited. */
export type ArchiveOptions = AuditOptions & { readonly limits: Limits };

/** Audits a file; whatever is wrong with it is no exception, as the other files of the call are audited all the same. */
export async function auditArchiveFile(file: string, options: ArchiveOptions): Promise<Audited> {
  try {
    const outcome = await audit(await readArchive(file, options.limits), {
      onRuleFailure: printRuleFailure,
      ...options,
    });
    return { outcome, exit: exitCodeOf(outcome, 'never') };
  } catch (cause) {
    if (cause instanceof InputError) return failed(cause.message, cause.code, EXIT.badInput);
    if (isFileError(cause)) return failed(`the file cannot be read (${cause.code})`, 'unreadable-file', EXIT.badInput);
    console.error(cause);
    return failed('the audit failed by a fault of this tool; please report it', 'internal-fault', EXIT.fault);
  }
}

function failed(problem: string, code: string, exit: ExitCode): Audited {
  return { outcome: { problem, code }, exit };
}

/** The line that tells of it. */
export function problemLine({ problem, code }: Problem): string {
  return `${problem} [${code}]`;
}

export function isFileError(cause: unknown): cause is NodeJS.ErrnoException {
  return cause instanceof Error && 'syscall' in cause && 'code' in cause;
}

/** The file's bytes; of one over the limit, or without end, no more than that is read. */
export async function readArchive(file: string, { uploadBytes }: Limits): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of createReadStream(file)) {
    bytes += piece.length;
    if (bytes > uploadBytes) {
      throw new InputError(
        'limit-exceeded',
        `the archive has more than ${uploadBytes} bytes; the limit uploadBytes is ${uploadBytes}`,
      );
    }
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

/** The same of a call that is about this file alone. @throws CallError where it cannot be read, or is too large */
export async function archiveAt(file: string, limits: Limits): Promise<Uint8Array> {
  try {
    return await readArchive(file, limits);
  } catch (cause) {
    if (cause instanceof InputError) throw new CallError(`${file}: ${cause.message} [${cause.code}]`);
    throw isFileError(cause) ? new CallError(`${file} cannot be read (${cause.code})`) : cause;
  }
}

export function printRuleFailure(rule: string, cause: unknown): void {
  console.error(`The rule ${rule} failed by a fault of this tool:`, cause);
}
