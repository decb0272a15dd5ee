import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { archiveOfBuilt, type Built, type BuiltDevice, type BuiltLine, carriedOut } from '../support/rebuilt.js';

/**
 * The loop closed: what a report proposes is carried out on what the archive was made of, made an archive again, and
 * read and audited like any other. Nothing of the service is used to carry it out but its report.
 */

const currents = fc.constantFrom(5, 7.5, 10, 12, 12.5, 20, 35, null);
const boards = fc.constantFrom('Board A', 'Board B', 'Board C', undefined);
const groups = fc.array(fc.record({ count: fc.integer({ min: 1, max: 40 }), ma: currents, board: boards }), {
  minLength: 1,
  maxLength: 6,
});
const ratings = fc.array(fc.constantFrom(160, 320, 640, 1280), { maxLength: 2 });

interface DrawnLine {
  readonly groups: readonly {
    readonly count: number;
    readonly ma: number | null;
    readonly board: string | undefined;
  }[];
  readonly ratings: readonly number[];
  readonly withAddresses: boolean;
  /** A further segment of the line, behind a repeater. */
  readonly further: Omit<DrawnLine, 'further'> | null;
}

const drawnSegment = fc.record({ groups, ratings, withAddresses: fc.boolean() });
const drawnLine: fc.Arbitrary<DrawnLine> = fc
  .tuple(drawnSegment, fc.option(drawnSegment, { freq: 4 }))
  .map(([first, further]) => ({ ...first, further }));
const main = fc.constantFrom('powered', 'IP', 'none') satisfies fc.Arbitrary<string>;

function segmentOf(
  line: string,
  { groups: drawn, ratings: rated, withAddresses }: Omit<DrawnLine, 'further'>,
  from: number,
) {
  let made = from;
  const devices = drawn.flatMap(({ count, ma, board }) =>
    Array.from({ length: count }, (): BuiltDevice => {
      const number = ++made;
      const address = withAddresses && number < 250 ? number : undefined;
      return { id: `D-${line}-${number}`, is: 'device', ma, board, address };
    }),
  );
  const supplies = rated.map((ma, at): BuiltDevice => ({ id: `U-${line}-${from}-${at}`, is: 'supply', ma }));
  return [...devices, ...supplies];
}

function lineOf(line: string, drawn: DrawnLine, coupler: BuiltDevice['is'] | null): BuiltLine {
  const couplers: BuiltDevice[] = coupler === null ? [] : [{ id: `C-${line}`, is: coupler, ma: 8, address: 0 }];
  const first = [...couplers, ...segmentOf(line, drawn, 0)];
  if (drawn.further === null) return { line, medium: 'MT-0', segments: [first] };
  const repeater: BuiltDevice = { id: `R-${line}`, is: 'coupler', ma: 6, address: 255 };
  return { line, medium: 'MT-0', segments: [first, [repeater, ...segmentOf(line, drawn.further, first.length)]] };
}

const plants: fc.Arbitrary<Built> = fc
  .record({ lines: fc.array(drawnLine, { minLength: 1, maxLength: 3 }), main, mainLoad: groups, mainRatings: ratings })
  .map(({ lines, main: kind, mainLoad, mainRatings }) => {
    if (kind === 'none') return { lines: lines.slice(0, 1).map((one) => lineOf('1.1', one, null)) };
    const coupler = kind === 'IP' ? 'IP coupler' : 'coupler';
    const below = lines.map((one, at) => lineOf(`1.${at + 1}`, one, coupler));
    const above: BuiltLine =
      kind === 'IP'
        ? { line: '1.0', medium: 'MT-5', segments: [[]] }
        : lineOf('1.0', { groups: mainLoad, ratings: mainRatings, withAddresses: true, further: null }, null);
    return { lines: [above, ...below] };
  });

describe('a report that is carried out', () => {
  it('leaves every segment that it touches sufficient when it is audited again', async () => {
    const seen = { split: 0, newMain: 0, mainSplit: 0, beside: 0 };
    await fc.assert(
      fc.asyncProperty(plants, async (built) => {
        const report = await audit(await archiveOfBuilt(built));
        const after = carriedOut(built, report);
        const again = await audit(await archiveOfBuilt(after.built));
        const verdicts = new Map(again.segments.map(({ id, verdict }) => [id, verdict]));
        expect(after.touched.map((id) => [id, verdicts.get(id)])).toEqual(
          after.touched.map((id) => [id, 'sufficient']),
        );
        const before = new Set(report.findings.map(({ rule }) => rule));
        const worse = again.findings.filter(({ rule }) => NEVER.includes(rule) && !before.has(rule));
        expect(worse).toEqual([]);
        for (const { proposal, id } of again.segments.filter((one) => after.touched.includes(one.id))) {
          expect([id, proposal.action]).toEqual([id, 'stays']);
        }
        for (const { proposal, line } of report.segments) {
          if (proposal.plan === null) continue;
          seen.split++;
          if (line === '1.0') seen.mainSplit++;
          if (proposal.plan.beside !== null) seen.beside++;
          expect(proposal.plan.pieces.every(({ places }) => places <= 64)).toBe(true);
        }
        seen.newMain += report.newMainLines.length;
      }),
      { numRuns: 120 },
    );
    expect(Object.values(seen).every((count) => count > 0)).toBe(true);
  });
});

/** What carrying a proposal out must not bring about. */
const NEVER = [
  'duplicate-address',
  'too-many-devices',
  'too-many-supplies',
  'short-circuit-sum',
  'coupler-missing',
  'growth-exceeds-supply',
];
