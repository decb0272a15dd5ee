/**
 * Every limit on an archive, in one list: what it bounds, its value and its unit. Published at `GET /v1/limits`.
 * An input over one of them is answered with `limit-exceeded`, naming the limit and its value.
 */
const MIB = 1024 * 1024;

export const LIMITS = {
  uploadBytes: { value: 128 * MIB, unit: 'bytes', bounds: 'the archive as it is uploaded' },
  archiveEntries: { value: 20_000, unit: 'entries', bounds: 'entries of the archive, directories included' },
  entryNameLength: { value: 1024, unit: 'bytes', bounds: 'the name of an entry' },
  entryDepth: { value: 32, unit: 'folders', bounds: 'the slashes in the name of an entry' },
  entryExtraLength: { value: 4096, unit: 'bytes', bounds: 'the extra fields of an entry, in either of its headers' },
  entryCommentLength: { value: 4096, unit: 'bytes', bounds: 'the comment of an entry' },
  archiveCommentLength: { value: 4096, unit: 'bytes', bounds: 'the comment of the archive' },
  declaredBytes: {
    value: 16 * 1024 * MIB,
    unit: 'bytes',
    bounds: 'all entries, inflated, by the sizes that the archive declares, whether they are read or not',
  },
  topologyBytes: { value: 512 * MIB, unit: 'bytes', bounds: 'one topology document, inflated' },
  partBytes: { value: 64 * MIB, unit: 'bytes', bounds: 'any other part that is read, inflated' },
  totalBytes: { value: 1024 * MIB, unit: 'bytes', bounds: 'all parts that are read, inflated' },
  partRatio: {
    value: 1000,
    unit: 'times',
    bounds: 'inflated against packed size of a part of over 1 MiB (repeated topology reaches a few hundred)',
  },
  xmlDepth: { value: 64, unit: 'elements', bounds: 'nesting of elements' },
  xmlAttributes: { value: 256, unit: 'attributes', bounds: 'attributes of one element' },
  xmlTagBytes: { value: 1024 * 1024, unit: 'bytes', bounds: 'one tag with all its attributes' },
  xmlValueLength: { value: 64 * 1024, unit: 'characters', bounds: 'one attribute value' },
} as const satisfies Record<string, { value: number; unit: string; bounds: string }>;

export type LimitName = keyof typeof LIMITS;

/** The values alone: what the readers are handed, so that a caller (or a test) can set others. */
export type Limits = { readonly [name in LimitName]: number };

export const DEFAULT_LIMITS: Limits = Object.fromEntries(
  Object.entries(LIMITS).map(([name, { value }]) => [name, value]),
) as Limits;
