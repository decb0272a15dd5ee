import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { buffer } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { formatXlsxSchedule } from '../../src/report/format/xlsx-schedule.js';
import { linebudget, MAIN, start } from '../support/linebudget.js';
import { needsPython, python } from '../support/python.js';

const ARCHIVE = fileURLToPath(new URL('../../fixtures/demo.zip', import.meta.url));
const CALL = ['audit', '--format', 'xlsx-schedule', '--fail-on', 'never', ARCHIVE];
const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
const OUT = join(folder, 'supplies.xlsx');

afterAll(() => rmSync(folder, { recursive: true }));

/** Runs a program on a terminal of its own, and says how it ended. */
const ON_TERMINAL = `
import os, pty, sys
print('exit', os.waitstatus_to_exitcode(pty.spawn(sys.argv[1:])))
`;

const onTerminal = (...args: readonly string[]) =>
  python('-c', ON_TERMINAL, process.execPath, MAIN, ...args).toString();

describe('a spreadsheet', () => {
  it('goes byte by byte into a file or a pipe', async () => {
    const report = await audit(readFileSync(ARCHIVE));
    const sent = await buffer(start(...CALL).stdout);
    expect(await linebudget(...CALL, '--out', OUT)).toMatchObject({ code: 0, stdout: '' });
    expect(readFileSync(OUT)).toEqual(sent);
    expect(sent).toEqual(Buffer.from(await formatXlsxSchedule(report, { archive: ARCHIVE })));
  });

  it.for(['audit', 'plan'])('is not written onto a terminal by %s, before anything is read', (command, context) => {
    needsPython(context);
    const said = onTerminal(command, '--format', 'xlsx-schedule', 'no such file');
    expect(said).toContain(
      'linebudget: --format xlsx-schedule is no text for a terminal; write it to a file: --out supply-schedule.xlsx',
    );
    expect(said).toMatch(/exit 2\s*$/);
  });

  it('is written from a terminal into a file, as text is written onto it', (context) => {
    needsPython(context);
    expect(onTerminal(...CALL, '--out', OUT)).toMatch(/exit 0\s*$/);
    expect(onTerminal('audit', '--format', 'csv-schedule', '--fail-on', 'never', ARCHIVE)).toMatch(/exit 0\s*$/);
  });

  it('comes of one archive at a time', async () => {
    const { code, stderr } = await linebudget(...CALL, ARCHIVE);
    expect([code, stderr]).toEqual([2, expect.stringContaining('--format xlsx-schedule takes one archive')]);
  });
});
