import type { InputFault } from '../../src/errors.js';
import type { RequestFault } from '../../src/http/problems.js';
import type { Report } from '../../src/report/report.js';
import { type Send, upload } from './send.js';

/** What is sent, and what has to come back for it. */
export interface Case {
  readonly what: string;
  readonly send: Send;
  /** Of each answer, in order, until the service closes the connection. */
  readonly statuses: readonly number[];
  /** Of the problem that the last answer holds; none if it is no problem. */
  readonly code?: InputFault | RequestFault;
  /** The part of the archive that the problem names; left out, it must name none. */
  readonly part?: string | undefined;
  /** What is looked at in a report, for input that looks bad and has to be audited all the same. */
  readonly look?: (report: Report) => unknown;
  readonly sees?: unknown;
  readonly withinMs?: number;
}

export interface Group {
  readonly name: string;
  readonly cases: readonly Case[];
}

export type MakeArchive = () => Uint8Array | string;

/** An archive that is refused. */
export function bad(what: string, status: number, code: InputFault, archive: MakeArchive, part?: string): Case {
  return { what, statuses: [status], code, send: upload(archive), part };
}

/** An archive that is audited, and something that its report has to say. */
export function fine(what: string, archive: MakeArchive, look: (report: Report) => unknown, sees: unknown): Case {
  return { what, statuses: [200], send: upload(archive), look, sees };
}

/** A request that is refused, whatever is in it. */
export function refused(what: string, status: number, code: InputFault | RequestFault, send: Send): Case {
  return { what, statuses: [status], code, send };
}

/** A request that is answered, once or several times, and with no problem in the end. */
export function answered(what: string, statuses: readonly number[], send: Send): Case {
  return { what, statuses, send };
}

/** For what takes long even if all is well: a bomb is unpacked until it is over its limit. */
export function slow(one: Case): Case {
  return { ...one, withinMs: 20_000 };
}
