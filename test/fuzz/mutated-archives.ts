import fc from 'fast-check';
import { fixtureParts } from '../support/archives.js';
import { plantParts } from '../support/random-plants.js';
import { rawZip } from '../support/raw-zip.js';
import { byteChanges, misplacements, treeChanges, withBytesChanged, withStructureChanged } from './mutations.js';

export type Parts = Readonly<Record<string, string | Buffer>>;

/** A good archive that something was done to, and what. */
export interface Mutated {
  readonly changes: readonly object[];
  readonly parts: Parts;
  readonly file: Buffer;
}

/** Parts that the audit reads. */
const READ = /(\/(\d+|project|hardware)|^knx_master)\.xml$/i;

const FIXTURES = ['house', 'twin-old', 'twin-new'].map((fixture) =>
  Object.fromEntries(Object.entries(fixtureParts(fixture)).filter(([name]) => READ.test(name))),
);

/** Small plants mostly, so that what is changed is most often something that counts. */
const goodParts: fc.Arbitrary<Parts> = fc.oneof(
  { weight: 3, arbitrary: plantParts },
  { weight: 1, arbitrary: fc.constantFrom(...FIXTURES) },
);

function packed(parts: Parts, stored: boolean): Buffer {
  return rawZip(Object.entries(parts).map(([name, data]) => ({ name, data, stored })));
}

/** The bytes of the archive itself. */
export const withArchiveChanged: fc.Arbitrary<Mutated> = fc
  .tuple(goodParts, fc.boolean(), byteChanges)
  .map(([parts, stored, changes]) => mutated(changes, parts, withBytesChanged(packed(parts, stored), changes)));

/** The bytes of one document, packed with sizes and checksum that fit. */
export const withDocumentChanged = changedPart(byteChanges, (document, changes) =>
  withBytesChanged(Buffer.from(document), changes),
);

/** Elements and attributes of one document, which keeps the form. */
export const withElementsChanged = changedPart(treeChanges, withStructureChanged);

/** Elements of one document, which loses the form. */
export const withElementsMisplaced = changedPart(misplacements, withStructureChanged);

function changedPart<T extends object>(
  changes: fc.Arbitrary<readonly T[]>,
  change: (document: string, changes: readonly T[]) => string | Buffer,
): fc.Arbitrary<Mutated> {
  return fc.tuple(goodParts, fc.nat(99), fc.boolean(), changes).map(([parts, index, stored, drawn]) => {
    const names = Object.keys(parts);
    const name = names[index % names.length] as string;
    const all = { ...parts, [name]: change(String(parts[name]), drawn) };
    return mutated([{ part: name }, ...drawn], all, packed(all, stored));
  });
}

function mutated(changes: readonly object[], parts: Parts, file: Buffer): Mutated {
  // Of a counterexample only the changes are fit to be read.
  return Object.assign({ changes, parts, file }, { [fc.toStringMethod]: () => fc.stringify(changes) });
}
