import { InputError, type InputFault } from '../errors.js';
import type { LimitName, Limits } from '../limits.js';

/** An archive that is not as a packer writes it; nobody mends that but who packed it. */
export function damaged(code: InputFault, what: string, part?: string): InputError {
  return new InputError(code, `${what}; export the project again`, { part });
}

/** Both the end record and what stands where the directory should begin can tell it. */
export function encryptedDirectory(): InputError {
  return new InputError('protected-project', 'the directory is encrypted; export the project without a password');
}

export function overLimit(what: string, name: LimitName, limits: Limits, part?: string): InputError {
  return new InputError('limit-exceeded', `${what}; the limit ${name} is ${limits[name]}`, { part });
}

/** A name may be what is too long; then its beginning tells which it is. */
const LONGEST_SHOWN = 1024;

/** What a header has beside its figures is bounded, each by a limit of its own. */
export function refuseLong(what: string, bytes: number, name: LimitName, limits: Limits, nameBytes: Buffer): void {
  if (bytes > limits[name]) {
    throw overLimit(
      `the ${what} of the entry has ${bytes} bytes`,
      name,
      limits,
      nameBytes.toString('utf8', 0, LONGEST_SHOWN),
    );
  }
}
