import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatAnnotations } from '../../src/report/format/annotations.js';
import { printable } from '../../src/report/format/layout.js';
import { summaryLine } from '../../src/report/format/text.js';
import type { Report } from '../../src/report/report.js';
import { HOSTILE_NAMES, reportOf, withFindings, withHostileNames, withMany, withWaivers } from '../support/reports.js';

interface Command {
  readonly name: string;
  readonly properties: Readonly<Record<string, string>>;
  readonly message: string;
}

const CONTEXT = { archive: 'plans/school' };
const LEVELS = { error: 'error', warning: 'warning', note: 'notice' };

/**
 * Reads commands as the runner does: a line that begins with `::`, properties up to the next `::`, each undone in one
 * pass from the table of escapes (from memory, not confirmed). Lines end wherever some reader ends them.
 */
function read(output: string): Command[] {
  expect(output.endsWith('\n')).toBe(true);
  const lines = output.slice(0, -1).split(/[\n\v\f\r\u0085\u2028\u2029]/);
  return lines.map((line) => {
    const [, name = '', list = '', message = ''] = /^::([a-z-]+)(?: (.*?))?::(.*)$/su.exec(line) ?? [];
    expect([line, name]).not.toEqual([line, '']);
    const pairs = list.split(',').map((pair) => {
      const at = pair.indexOf('=');
      return [pair.slice(0, at), unescaped(pair.slice(at + 1))];
    });
    return { name, properties: Object.fromEntries(pairs), message: unescaped(message) };
  });
}

const ESCAPES: Readonly<Record<string, string>> = { '%25': '%', '%0D': '\r', '%0A': '\n', '%3A': ':', '%2C': ',' };

function unescaped(text: string): string {
  return text.replace(/%(25|0D|0A|3A|2C)/g, (code) => ESCAPES[code] ?? code);
}

describe('the annotations', () => {
  it('say every finding in its order, worst first, and the counts at the end', async () => {
    const report = await reportOf('school');
    const commands = read(formatAnnotations(report, CONTEXT));
    const titles = new Map(report.rules.map(({ id, title }) => [id, title]));
    expect(commands.slice(0, -1)).toEqual(
      report.findings.map(({ rule, severity, message, remedy, location: { part, line } }) => ({
        name: LEVELS[severity],
        properties: { file: 'plans/school', line: String(line), title: titles.get(rule) },
        message: `${message} ${remedy} [${rule}, ${part}:${line}]`,
      })),
    );
    expect(commands.at(-1)).toEqual({
      name: 'notice',
      properties: { title: 'linebudget' },
      message: summaryLine(report),
    });
    const levels = commands.slice(0, -1).map(({ name }) => Object.values(LEVELS).indexOf(name));
    expect(levels).toEqual([...levels].sort());
  });

  it('are one line of counts where nothing is found', async () => {
    const report = withFindings(await reportOf('house'), []);
    expect(read(formatAnnotations(report, CONTEXT)).map(({ message }) => message)).toEqual([summaryLine(report)]);
  });

  it('only count what is waived', async () => {
    const report = withWaivers(await reportOf('school'));
    const { waived } = report.summary;
    expect(waived).toBe(9); // of 25 findings every third, from the first on
    const commands = read(formatAnnotations(report, CONTEXT));
    expect(commands).toHaveLength(report.findings.length - waived + 1);
    expect(commands.at(-1)?.message).toBe(summaryLine(report));
  });

  it('leave none out, however many there are', async () => {
    expect(read(formatAnnotations(withMany(await reportOf('school'), 25_001), CONTEXT))).toHaveLength(25_002);
  });

  it('let no name begin a command or leave its place', async () => {
    const report = withHostileNames(await reportOf('school'));
    for (const archive of HOSTILE_NAMES) {
      const commands = read(formatAnnotations(report, { archive }));
      expect(commands).toHaveLength(report.findings.length - report.summary.waived + 1);
      for (const { properties } of commands.slice(0, -1))
        expect(Object.keys(properties)).toEqual(['file', 'line', 'title']);
    }
  });

  it('carry any text as it is, but on one line', async () => {
    const report = await reportOf('school');
    const [first] = report.findings;
    const [rule] = report.rules;
    if (first === undefined || rule === undefined) throw new Error('the school has findings');
    const withText = (text: string): Report => ({
      ...withFindings(report, [{ ...first, message: text }]),
      rules: [{ ...rule, title: text }],
    });
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), fc.constantFrom(...HOSTILE_NAMES), (text, name) => {
        const [command, ...rest] = read(formatAnnotations(withText(text + name), CONTEXT));
        expect(rest).toHaveLength(1);
        expect(command?.properties.title).toBe(printable(text + name));
        expect(command?.message.startsWith(`${printable(text + name)} `)).toBe(true);
      }),
    );
  });
});
