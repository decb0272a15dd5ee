import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { audit } from '../src/audit.js';
import { type Report, type ReportSegment, reportSchema } from '../src/report/report.js';
import { fixtureArchive, fixtureParts, zip } from './support/archives.js';
import { notedAtLarge, notedBreakEvens, notedFixtures, notedSegments, notedSums } from './support/notes.js';

const FIXTURES = notedFixtures().map(({ fixture }) => fixture);

const auditOf = async (fixture: string) => audit(await fixtureArchive(fixture));

function segmentOf(report: Report, { line, number }: { line: string; number: number | undefined }): ReportSegment {
  const found = report.segments.filter((one) => one.line === line && (number === undefined || one.number === number));
  if (found[0] === undefined || found.length > 1) throw new Error(`${found.length} segments of line ${line}`);
  return found[0];
}

/** Findings per rule, of those that concern a segment, or of those that concern none. */
function rulesOf({ findings }: Report, segment?: ReportSegment): Record<string, number> {
  const here = findings.filter(({ segments }) => (segment ? segments.includes(segment.id) : segments.length === 0));
  const counts: Record<string, number> = {};
  for (const { rule } of here) counts[rule] = (counts[rule] ?? 0) + 1;
  return counts;
}

test('every fixture has a note with figures, and so a place in these tests', () => {
  expect(FIXTURES).toHaveLength(5);
  for (const fixture of FIXTURES) expect([fixture, notedSegments(fixture).length]).not.toEqual([fixture, 0]);
});

describe.each(FIXTURES)('%s comes to what its note says', (fixture) => {
  test('project and counts', async () => {
    const noted = notedFixtures().find((one) => one.fixture === fixture);
    const { projects, segments, summary } = await auditOf(fixture);
    expect({
      fixture,
      project: projects.map(({ name }) => name).join(),
      schema: projects[0]?.schema,
      lines: new Set(segments.map(({ line }) => line)).size,
      placed: summary.devicesPlaced,
      unplaced: summary.devicesUnplaced,
    }).toEqual(noted);
    expect(segments).toHaveLength(notedSegments(fixture).length);
    expect(summary.complete).toBe(true);
  });

  test('load, ratings, target, class sum and verdict of each segment', async () => {
    const report = await auditOf(fixture);
    const noted = notedSegments(fixture);
    const found = noted.map((place) => {
      const { load, supply, fanIn, verdict, name, lineName } = segmentOf(report, place);
      return {
        line: place.line,
        number: place.number,
        name: [name, lineName].includes(place.name) ? place.name : lineName,
        loadMa: load.items === 0 ? null : load.totalMa,
        ratingsMa: supply.units.map(({ ratedMa }) => ratedMa),
        targetMa: load.items === 0 ? null : supply.targetMa,
        classSumMa: fanIn?.classSumMa ?? null,
        verdict,
      };
    });
    expect(found).toEqual(noted.map(({ rules, isInadmissible, ...figures }) => figures));
    for (const place of noted.filter(({ isInadmissible }) => isInadmissible)) {
      expect(segmentOf(report, place).supply.capacityMa).toBeNull();
    }
  });

  test('findings of each segment, and of none', async () => {
    const report = await auditOf(fixture);
    const noted = notedSegments(fixture);
    const found = noted.map((place) => ({ line: place.line, rules: rulesOf(report, segmentOf(report, place)) }));
    expect(found).toEqual(noted.map(({ line, rules }) => ({ line, rules })));
    expect(Object.keys(rulesOf(report)).sort()).toEqual(notedAtLarge(fixture).sort());
  });

  test('how each load adds up', async () => {
    const report = await auditOf(fixture);
    for (const { line, number, own, reaching, loadUa } of notedSums(fixture)) {
      const { load, devices } = segmentOf(report, { line, number });
      expect([line, own.ua + reaching.ua]).toEqual([line, loadUa]); // the note itself adds up
      const elsewhere = devices.filter(({ chargedAs }) => chargedAs !== null && chargedAs !== 'participant');
      expect({
        line,
        items: load.items,
        elsewhere: elsewhere.length,
        assumedItems: load.assumedItems,
        assumedUa: Math.round(load.assumedMa * 1000),
      }).toEqual({
        line,
        items: own.items + reaching.items,
        elsewhere: reaching.items,
        assumedItems: own.assumedItems + reaching.assumedItems,
        assumedUa: own.assumedUa + reaching.assumedUa,
      });
    }
    const withLoad = notedSegments(fixture).filter(({ loadMa }) => loadMa !== null);
    expect(notedSums(fixture).map(({ line, loadUa }) => [line, loadUa / 1000])).toEqual(
      withLoad.map(({ line, loadMa }) => [line, loadMa]),
    );
  });

  test('what the assumed currents could be before a verdict turns', async () => {
    const report = await auditOf(fixture);
    const noted = notedBreakEvens(fixture);
    for (const { line, number, assumed, knownMa, toTightMa, toInsufficientMa } of noted) {
      const { load, breakEven } = segmentOf(report, { line, number });
      expect(load.assumedItems).toBe(assumed);
      expect(load.declaredMa).toBe(knownMa);
      expect(breakEven).toEqual({ toTightMa, toInsufficientMa });
    }
    const without = report.segments.filter(({ line }) => !noted.some((one) => one.line === line));
    for (const { breakEven } of without) expect(breakEven).toEqual({ toTightMa: null, toInsufficientMa: null });
  });

  test('whoever is not fed, overloaded or undecidable has an error that says so', async () => {
    const { segments, findings } = await auditOf(fixture);
    for (const { id, verdict } of segments) {
      const errors = findings.filter((one) => one.severity === 'error' && one.segments.includes(id));
      const isBad = ['unfed', 'insufficient', 'undecidable'].includes(verdict);
      if (isBad) expect([id, errors.length]).not.toEqual([id, 0]);
      else expect(errors.filter(({ rule }) => rule !== 'duplicate-address')).toEqual([]);
    }
  });

  test('the report is what its schema says, no more and no less', async () => {
    const report = await auditOf(fixture);
    expect(reportSchema.parse(report)).toEqual(report);
    expect(reportSchema.parse(JSON.parse(JSON.stringify(report)))).toEqual(report);
  });
});

describe('the twins', () => {
  /** A segment without what the two forms have to call differently: ids, names and the place of the medium. */
  const figures = ({ segments }: Report) => segments.map((segment) => figuresOf(segment, segments));

  function figuresOf(
    { id, name, medium: { from, ...medium }, devices, supply, proposal, ...segment }: ReportSegment,
    segments: readonly ReportSegment[],
  ) {
    const { chokes, units, ...sums } = supply;
    const { moves } = proposal;
    const to = segments.find((other) => other.id === moves?.to)?.label;
    return {
      ...segment,
      proposal: { ...proposal, moves: moves && { ...moves, to } },
      medium,
      supply: { ...sums, chokes: chokes.length, units: units.map(({ id: _, ...unit }) => unit) },
      devices: devices.map(({ id: _, ...device }) => device),
    };
  }

  test('the older and the newer form of one plant give the same figures', async () => {
    const [older, newer] = await Promise.all([auditOf('twin-old'), auditOf('twin-new')]);
    expect(older.projects[0]?.schema).not.toBe(newer.projects[0]?.schema);
    expect(figures(older)).toEqual(figures(newer));
    expect(older.summary).toEqual(newer.summary);
  });

  test('and the same findings, in the same words', async () => {
    const words = ({ findings }: Report) =>
      findings.map(({ rule, severity, subject: { kind, label }, restsOn, message, remedy }) => ({
        ...{ rule, severity, kind, label, restsOn, message, remedy },
      }));
    const [older, newer] = await Promise.all([auditOf('twin-old'), auditOf('twin-new')]);
    expect(words(older)).toEqual(words(newer));
    expect(older.findings).not.toEqual([]);
  });
});

test.each([['0'], ['160'], ['640'], ['1280'], ['-960']])(
  'a line with repeaters is never called sufficient, whatever its supplies: %s mA each',
  async (rating) => {
    const parts: Record<string, string> = {};
    let changed = 0;
    for (const [name, data] of Object.entries(fixtureParts('repeaters'))) {
      parts[name] = data.toString().replace(/<Hardware [^>]*IsPowerSupply="(1|true)"[^>]*>/g, (hardware) => {
        changed++;
        return hardware.replace(/BusCurrent="[^"]*"/, `BusCurrent="${rating}"`);
      });
    }
    expect(changed).toBeGreaterThan(1);
    const { segments } = await audit(await zip(parts));
    const repeated = segments.filter(({ devices }) => devices.some(({ role }) => role === 'repeater'));
    expect(repeated.map(({ line }) => line)).toEqual(['1.1', '1.2', '1.3']);
    for (const { verdict } of repeated) expect(['insufficient', 'unfed', 'undecidable']).toContain(verdict);
  },
);

describe('the same input gives the same report', () => {
  test.each(FIXTURES)('%s, twice', async (fixture) => {
    const [one, other] = [await auditOf(fixture), await auditOf(fixture)];
    expect(JSON.stringify(other)).toBe(JSON.stringify(one));
  });

  test('in processes of their own, in other places and times', async () => {
    const file = await fixtureArchive('school');
    const built = new URL('../dist/audit.js', import.meta.url).href;
    const program = `
      import { audit } from ${JSON.stringify(built)};
      const pieces = [];
      for await (const piece of process.stdin) pieces.push(piece);
      process.stdout.write(JSON.stringify(await audit(Buffer.concat(pieces))));
    `;
    const run = (cwd: string, env: Record<string, string>) => {
      const options = { input: file, cwd, env: { ...process.env, ...env }, maxBuffer: 1e9 };
      const { stdout, stderr } = spawnSync(process.execPath, ['--input-type=module', '-e', program], options);
      expect(stderr.toString()).toBe('');
      return stdout.toString();
    };
    const expected = JSON.stringify(await audit(file));
    expect(run('/', { TZ: 'Pacific/Kiritimati', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8' })).toBe(expected);
    expect(run(fileURLToPath(new URL('.', import.meta.url)), { TZ: 'UTC', LANG: 'C', LC_ALL: 'C' })).toBe(expected);
  });

  test('whatever the order of the entries', async () => {
    for (const fixture of ['school', 'repeaters']) {
      const entries = Object.entries(fixtureParts(fixture));
      const plain = await auditOf(fixture);
      const orders = fc.shuffledSubarray(entries, { minLength: entries.length, maxLength: entries.length });
      await fc.assert(
        fc.asyncProperty(orders, async (order) => {
          const report = await audit(await zip(Object.fromEntries(order)));
          const { sha256, bytes } = plain.archive;
          expect({ ...report, archive: { ...report.archive, sha256, bytes } }).toEqual(plain);
        }),
        { numRuns: 8 },
      );
    }
  });

  test.each(['school', 'twin-old'])('%s, nested in a folder, in capitals, behind backslashes', async (fixture) => {
    const nested = (name: string) => `EXPORTS\\${name.toUpperCase().replaceAll('/', '\\')}`;
    const parts = Object.entries(fixtureParts(fixture)).map(([name, data]) => [nested(name), data]);
    const plain = await auditOf(fixture);
    const report = await audit(await zip(Object.fromEntries(parts)));
    const expectedParts = plain.archive.parts.map((part) => ({ ...part, name: nested(part.name) }));
    expect(report.archive.parts).toEqual(expectedParts.sort((a, b) => (a.name < b.name ? -1 : 1)));
    expect(report.projects).toEqual(
      plain.projects.map((project) => ({
        ...project,
        installations: project.installations.map((one) => ({ ...one, part: nested(one.part) })),
      })),
    );
    const located = plain.findings.map(({ location, ...finding }) => {
      return { ...finding, location: { ...location, part: nested(location.part) } };
    });
    expect(report.findings).toEqual(located);
    const rest = ({ archive, projects, findings, ...others }: Report) => others;
    expect(rest(report)).toEqual(rest(plain));
  });
});
