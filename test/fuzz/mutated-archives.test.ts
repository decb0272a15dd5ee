import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { audit } from '../../src/audit.js';
import { INPUT_FAULTS, InputError } from '../../src/errors.js';
import { DEFAULT_LIMITS } from '../../src/limits.js';
import { FORMATS } from '../../src/report/format/index.js';
import { reportSchema } from '../../src/report/report.js';
import { fixtureArchive } from '../support/archives.js';
import { needsPython } from '../support/python.js';
import { type ArchiveRead, type Refused, readByAudit, readByPython } from '../support/second-reader.js';
import { checkedOutcome } from './invariants.mjs';
import {
  type Mutated,
  type Parts,
  withArchiveChanged,
  withDocumentChanged,
  withElementsChanged,
  withElementsMisplaced,
} from './mutated-archives.js';

const SERVICE = { audit, InputError, INPUT_FAULTS, reportSchema, FORMATS };
const outcomeOf = (file: Buffer) => checkedOutcome(SERVICE, file, DEFAULT_LIMITS);

/** Shown with every failure; set it to see one again. */
const SEED = Number(process.env.LINEBUDGET_SEED ?? Math.floor(Math.random() * 2 ** 31));

const MUTATIONS = {
  'in its bytes': withArchiveChanged,
  'in the bytes of a document': withDocumentChanged,
  'in the elements of a document': withElementsChanged,
  'in the places of elements': withElementsMisplaced,
};

describe.each(Object.entries(MUTATIONS))('a good archive, changed %s,', (_where, mutated) => {
  test('ends in a documented refusal or a whole report, and leaves no trace', async () => {
    const healthy = await fixtureArchive('house');
    const written = async () => FORMATS.json.format(await audit(healthy));
    const before = await written();
    const property = fc.asyncProperty(mutated, async ({ file }) => {
      await outcomeOf(file);
    });
    await fc.assert(property, { seed: SEED, numRuns: 100 });
    expect(await written()).toBe(before);
  });
});

test('no device gets lost, wherever it stands', async () => {
  const property = fc.asyncProperty(withElementsMisplaced, async ({ file, parts }) => {
    const { report } = await outcomeOf(file);
    fc.pre(report !== undefined);
    const documents = Object.values(parts).join('');
    const [installation = ''] = /<Installation .*<\/Installation>/s.exec(documents) ?? [];
    const { devicesPlaced, devicesUnplaced } = report.summary;
    expect(devicesPlaced + devicesUnplaced).toBe(installation.split(/<DeviceInstance[ >]/).length - 1);
  });
  await fc.assert(property, { seed: SEED, numRuns: 100 });
});

describe('the independent reader says the same of a good archive, changed', () => {
  test.for([
    { where: 'in its bytes', mutated: withArchiveChanged, leastRead: 0 },
    { where: 'in the bytes of a document', mutated: withDocumentChanged, leastRead: 1 },
    { where: 'in the elements of a document', mutated: withElementsChanged, leastRead: 50 },
  ])('$where', async ({ mutated, leastRead }, context) => {
    needsPython(context);
    const drawn = fc.sample(mutated, { seed: SEED, numRuns: 150 });
    const byPython = readByPython(drawn.map(({ file }) => file));
    const read = await Promise.all(
      drawn.map((one, index) => isReadAlike(one, byPython[index] as ArchiveRead | Refused)),
    );
    expect(read.filter(Boolean).length).toBeGreaterThanOrEqual(leastRead);
  });
});

/** Holds the outcome of an audit against what the independent reader found; tells whether there was a report. */
async function isReadAlike({ file, parts, changes }: Mutated, byPython: ArchiveRead | Refused): Promise<boolean> {
  const { report, refusal } = await outcomeOf(file);
  const place = { changes };
  if (report === undefined) {
    const due = isStricter(refusal) ? byPython : { refused: expect.any(String) };
    expect({ ...place, byPython }, `seed ${SEED}, ${refusal.code}: ${refusal.message}`).toEqual({
      ...place,
      byPython: due,
    });
  } else if (!isOfFourthEdition(parts, byPython)) {
    const byAudit = settled(readByAudit(file, report));
    expect({ ...place, ...byAudit }, `seed ${SEED}`).toEqual({
      ...place,
      ...('refused' in byPython ? byPython : settled(byPython)),
    });
  }
  return report !== undefined;
}

/**
 * What the form settles: not whether a device that stands neither on a line nor in the list of unassigned ones is one of
 * these, nor what a coupler without an address is between, nor from where on a number is no current any more.
 */
function settled({ unassigned: _, segments, ...read }: ArchiveRead): object {
  const isAddressed = ({ address }: { address: string | null }) => address !== null;
  const withoutNonsense = segments.map(({ participants, reaching, supplies, ...segment }) => ({
    ...segment,
    participants: participants.map((one) => ({ ...one, currentUa: possible(one.currentUa) })),
    reaching: reaching.filter(isAddressed).map((one) => ({ ...one, currentUa: possible(one.currentUa) })),
    supplies: supplies.map((one) => ({ ...one, ratingUa: possible(one.ratingUa) })),
  }));
  return { ...read, segments: withoutNonsense };
}

/** Beyond 1 kA the audit takes a number for a fault of the data. */
function possible(ua: number | null): number | null {
  return ua !== null && Math.abs(ua) > 1e9 ? null : ua;
}

/** Expat has the names of the fourth edition of XML, and refuses some characters in them that the fifth allows. */
function isOfFourthEdition(parts: Parts, byPython: ArchiveRead | Refused): boolean {
  const isToken = 'refused' in byPython && byPython.refused.includes('invalid token');
  return isToken && Object.values(parts).some((document) => /[^\0-\x7f]/.test(String(document)));
}

/** The independent reader passes over what is out of the form, and over how an archive is put together. */
const STRICTER = new Set([
  ...['invalid-value', 'no-segments', 'limit-exceeded', 'protected-project', 'unsupported-packing', 'size-mismatch'],
  ...['archive-cut-off', 'archive-gap', 'archive-split', 'ambiguous-directory', 'ambiguous-part', 'unsafe-name'],
  ...['directory-contradictory', 'directory-misplaced'],
  'inflate-failed', // Python does without the end of a stream once all bytes are there
  ...['entries-overlap', 'entry-contradictory', 'entry-misplaced'],
]);

/** Where the audit asks for more by design: it also reads names, and takes no document type and few encodings. */
function isStricter({ code, detail, place }: InputError): boolean {
  if (STRICTER.has(code) || /project\.xml$|knx_master\.xml$/i.test(place.part ?? '')) return true;
  return /^the document is declared as|document type|XML declaration/.test(detail);
}
