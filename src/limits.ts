import { availableParallelism } from 'node:os';

/**
 * Every limit, in one list: what it bounds, its value, its unit, and between what it can be set. Published at
 * `GET /v1/limits`.
 */
interface Limit {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly unit: string;
  readonly bounds: string;
}

const MIB = 1024 * 1024;
const GIB = 1024 * MIB;
/** An hour, for what is counted in seconds. */
const HOUR = 3600;

/** Limits on an archive. An input over one of them is answered with `limit-exceeded`, naming the limit and its value. */
export const ARCHIVE_LIMITS = {
  uploadBytes: { value: 128 * MIB, least: 1, most: GIB, unit: 'bytes', bounds: 'the archive as it is uploaded' },
  archiveEntries: {
    value: 20_000,
    least: 1,
    most: 1_000_000,
    unit: 'entries',
    bounds: 'entries of the archive, directories included',
  },
  entryNameLength: { value: 1024, least: 1, most: 65_535, unit: 'bytes', bounds: 'the name of an entry' },
  entryDepth: { value: 32, least: 1, most: 65_535, unit: 'folders', bounds: 'the slashes in the name of an entry' },
  entryExtraLength: {
    value: 4096,
    least: 0,
    most: 65_535,
    unit: 'bytes',
    bounds: 'the extra fields of an entry, in either of its headers',
  },
  entryCommentLength: { value: 4096, least: 0, most: 65_535, unit: 'bytes', bounds: 'the comment of an entry' },
  archiveCommentLength: { value: 4096, least: 0, most: 65_535, unit: 'bytes', bounds: 'the comment of the archive' },
  declaredBytes: {
    value: 16 * GIB,
    least: 1,
    most: 1024 * GIB,
    unit: 'bytes',
    bounds: 'all entries, inflated, by the sizes that the archive declares, whether they are read or not',
  },
  topologyBytes: {
    value: 512 * MIB,
    least: 1,
    most: 16 * GIB,
    unit: 'bytes',
    bounds: 'one topology document, inflated',
  },
  partBytes: {
    value: 64 * MIB,
    least: 1,
    most: 16 * GIB,
    unit: 'bytes',
    bounds: 'any other part that is read, inflated',
  },
  totalBytes: { value: GIB, least: 1, most: 64 * GIB, unit: 'bytes', bounds: 'all parts that are read, inflated' },
  partRatio: {
    value: 1000,
    least: 1,
    most: 1_000_000,
    unit: 'times',
    bounds: 'inflated against packed size of a part of over 1 MiB (repeated topology reaches a few hundred)',
  },
  xmlDepth: { value: 64, least: 1, most: 10_000, unit: 'elements', bounds: 'nesting of elements' },
  xmlAttributes: { value: 256, least: 1, most: 10_000, unit: 'attributes', bounds: 'attributes of one element' },
  xmlTagBytes: { value: MIB, least: 1, most: 64 * MIB, unit: 'bytes', bounds: 'one tag with all its attributes' },
  xmlNameLength: { value: 1024, least: 32, most: MIB, unit: 'bytes', bounds: 'the name of an element or an attribute' },
  xmlValueLength: { value: 64 * 1024, least: 1, most: 64 * MIB, unit: 'characters', bounds: 'one attribute value' },
  readValueLength: {
    value: 4096,
    least: 1,
    most: 64 * MIB,
    unit: 'characters',
    bounds: 'one attribute value that is read: a name, an id, a number',
  },
  elementsRead: {
    value: 400_000,
    least: 1,
    most: 16_000_000,
    unit: 'elements',
    bounds: 'elements of one document that are read: devices, products, places and what holds them',
  },
  reportLength: {
    value: 64 * MIB,
    least: 1,
    most: 256 * MIB,
    unit: 'characters',
    bounds:
      'the report, as JSON, estimated (some 150,000 devices; a long name that many devices share counts for each)',
  },
} as const satisfies Record<string, Limit>;

/** Limits on what the service does at once and how long it takes. */
const SERVICE_LIMITS = {
  auditSeconds: {
    value: 60,
    least: 1,
    most: HOUR,
    unit: 'seconds',
    bounds: 'the run of one audit, without its wait for a thread',
  },
  auditMemoryMib: {
    value: 256,
    least: 16,
    most: 65_536,
    unit: 'MiB',
    bounds: 'the heap of one audit, beside the archive itself',
  },
  auditThreads: {
    value: availableParallelism(),
    least: 1,
    most: 256,
    unit: 'audits',
    bounds: 'audits that run at once (one for each processor unless set)',
  },
  auditQueue: { value: 16, least: 1, most: 10_000, unit: 'audits', bounds: 'audits that wait for a thread' },
  uploadsHeld: {
    value: 64,
    least: 1,
    most: 10_000,
    unit: 'requests',
    bounds: 'uploads that arrive, wait, run or are answered at once',
  },
  uploadBytesHeld: {
    value: 256 * MIB,
    least: 1,
    most: 64 * GIB,
    unit: 'bytes',
    bounds: 'all uploads held at once, as far as they have come',
  },
  uploadBytesPerSecond: {
    value: 1024,
    least: 1,
    most: GIB,
    unit: 'bytes a second',
    bounds: 'what an upload has to come with at least, over any ten seconds',
  },
  documentBytes: {
    value: MIB,
    least: 1,
    most: 64 * MIB,
    unit: 'bytes',
    bounds: 'a plan, a policy or any other document that is sent beside an archive',
  },
  formBytes: {
    value: 64 * 1024,
    least: 1024,
    most: MIB,
    unit: 'bytes',
    bounds: 'what a form holds around its files',
  },
  headerBytes: {
    value: 16 * 1024,
    least: 1024,
    most: MIB,
    unit: 'bytes',
    bounds: 'the first line and the headers of a request',
  },
  headerSeconds: { value: 20, least: 1, most: HOUR, unit: 'seconds', bounds: 'the headers of a request on their way' },
  requestSeconds: { value: 120, least: 1, most: HOUR, unit: 'seconds', bounds: 'a whole request on its way' },
  answerSeconds: { value: 120, least: 1, most: HOUR, unit: 'seconds', bounds: 'an answer on its way' },
  idleSeconds: { value: 60, least: 1, most: HOUR, unit: 'seconds', bounds: 'a kept connection between two requests' },
  connections: { value: 1024, least: 1, most: 100_000, unit: 'connections', bounds: 'connections open at once' },
  stopSeconds: {
    value: 30,
    least: 1,
    most: HOUR,
    unit: 'seconds',
    bounds: 'requests in flight when the service is told to stop',
  },
} as const satisfies Record<string, Limit>;

export const LIMITS = { ...ARCHIVE_LIMITS, ...SERVICE_LIMITS } as const;

export type ArchiveLimitName = keyof typeof ARCHIVE_LIMITS;
export type LimitName = keyof typeof LIMITS;

/** The values alone: what the readers are handed, so that a caller (or a test) can set others. */
export type Limits = { readonly [name in LimitName]: number };

export const LIMIT_NAMES = Object.keys(LIMITS) as LimitName[];
export const ARCHIVE_LIMIT_NAMES = Object.keys(ARCHIVE_LIMITS) as ArchiveLimitName[];

export const DEFAULT_LIMITS: Limits = Object.fromEntries(
  LIMIT_NAMES.map((name) => [name, LIMITS[name].value]),
) as Limits;

/** A limit cannot be set like this; the message says why, and what can be. */
export class LimitError extends Error {
  override readonly name = 'LimitError';
}

/**
 * Holds each value by itself against its range.
 * @param names the limits that may be set here
 * @throws LimitError for a name that is none of them, and for a value that is no whole number within its range
 */
export function checkLimits(values: Readonly<Record<string, number>>, names: readonly LimitName[] = LIMIT_NAMES): void {
  for (const [name, value] of Object.entries(values)) {
    const known = names.find((one) => one === name);
    if (known === undefined) throw new LimitError(`there is no limit "${name}" here; there are ${names.join(', ')}`);
    const { least, most, unit } = LIMITS[known];
    if (!Number.isSafeInteger(value) || value < least || value > most) {
      throw new LimitError(`the limit ${name} is a whole number from ${least} to ${most} (${unit}), not ${value}`);
    }
  }
}

/**
 * The limits with others in place of some values.
 * @throws LimitError as {@link checkLimits}
 */
export function limitsWith(values: Readonly<Record<string, number>>): Limits {
  checkLimits(values);
  return { ...DEFAULT_LIMITS, ...values };
}
