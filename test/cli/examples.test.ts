import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';
import { fromMarkdown } from 'mdast-util-from-markdown';
import { describe, expect, it, onTestFinished } from 'vitest';
import type { Report } from '../../src/report/report.js';
import { FIXTURES } from '../support/archives.js';
import { schoolWith, withLargerSupply } from '../support/edited.js';
import { ended } from '../support/linebudget.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const MAIN = join(ROOT, 'dist/cli/main.js');

/** A command line of an example: as it stands there, and the exit code that is said beside it. */
interface Example {
  readonly command: string;
  readonly exit: number;
}

interface Block {
  readonly lang: string;
  readonly meta: string | null;
  readonly value: string;
  readonly examples: readonly Example[];
}

/** In a script, an entry of one or a value; what the image runs counts as well. The service does not end by itself. */
const COMMAND = /^ *(?:- |entry: )?((?:(?:npx )?linebudget|docker run .* registry\.example\/linebudget) .*)$/;

function exampleOf(line: string): Example[] {
  const [, found] = COMMAND.exec(line) ?? [];
  if (found === undefined || /linebudget serve/.test(found)) return [];
  const [command = '', exit = '0'] = found.split(/\s+# exit (?=\d)/);
  return [{ command, exit: Number(exit) }];
}

const blocks: Block[] = fromMarkdown(readFileSync(join(ROOT, 'README.md'), 'utf8')).children.flatMap((node) => {
  if (node.type !== 'code') return [];
  const { lang, meta = null, value } = node;
  return [{ lang: lang ?? '', meta, value, examples: value.split('\n').flatMap(exampleOf) }];
});

/** The container's engine, and what is in its image: of a line for it runs what follows the program. */
const STAND_INS = `
npx() { "$@"; }
docker() { while [ "$1" != registry.example/linebudget ]; do shift; done; shift; linebudget "$@"; }
`;

/** A copy of what the examples run on: the demo archive as the project's, and as that of the main branch. */
function workspace(): string {
  const folder = mkdtempSync(join(tmpdir(), 'linebudget-'));
  onTestFinished(() => rmSync(folder, { recursive: true }));
  cpSync(FIXTURES, join(folder, 'fixtures'), { recursive: true });
  mkdirSync(join(folder, 'plan'));
  for (const name of ['plan/project.zip', 'old.zip']) cpSync(join(FIXTURES, 'demo.zip'), join(folder, name));
  for (const { meta, value } of blocks) if (meta !== null) writeFileSync(join(folder, meta), `${value}\n`);
  mkdirSync(join(folder, 'bin'));
  symlinkSync(MAIN, join(folder, 'bin', 'linebudget'));
  return folder;
}

async function run(command: string, folder: string) {
  const child = spawn('sh', ['-c', `${STAND_INS}${command}`], {
    cwd: folder,
    env: {
      ...process.env,
      PATH: `${join(folder, 'bin')}${delimiter}${process.env.PATH}`,
      GITHUB_STEP_SUMMARY: join(folder, 'summary.md'),
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const [{ code }, stdout, stderr] = await Promise.all([ended(child), text(child.stdout), text(child.stderr)]);
  return { code, stdout, stderr };
}

/** The files that a command says it writes. */
function filesOf(command: string): string[] {
  const out = [...command.matchAll(/--(?:out|waivers) (\S+)/g)].map(([, file = '']) => file);
  return command.includes('GITHUB_STEP_SUMMARY') ? [...out, 'summary.md'] : out;
}

const READERS: Readonly<Record<string, (source: string) => unknown>> = {
  json: JSON.parse,
  'code-quality': JSON.parse,
  sarif: JSON.parse,
};

const withExamples = blocks.map((block, index) => ({ block, after: blocks[index + 1] })).filter(hasExamples);

function hasExamples({ block }: { readonly block: Block }): boolean {
  return block.examples.length > 0;
}

describe('the examples of the README', () => {
  it('are found', () => {
    const commands = withExamples.flatMap(({ block }) => block.examples.map(({ command }) => command));
    for (const name of [
      'audit',
      'plan',
      'unknowns',
      'policy',
      'waive',
      'compare',
      'what-if',
      'rules',
      'token',
      '--help',
    ]) {
      expect(commands.filter((command) => command.includes(`linebudget ${name}`)).length, name).toBeGreaterThan(0);
    }
    expect(commands.filter((command) => command.includes('registry.example/linebudget')).length).toBe(4);
  });

  it.each(withExamples.map((one) => [one.block.examples[0]?.command, one] as const))(
    'end as it says, and write what they say: %s …',
    async (_, { block, after }) => {
      const folder = workspace();
      let printed = '';
      for (const { command, exit } of block.examples) {
        const { code, stdout, stderr } = await run(command, folder);
        expect([command, code, code === exit ? '' : stderr]).toEqual([command, exit, '']);
        const [, format = ''] = /--format (\S+)/.exec(command) ?? [];
        for (const file of filesOf(command)) {
          const source = readFileSync(join(folder, file), 'utf8');
          expect(source, file).not.toBe('');
          if (command.includes(`--out ${file}`)) READERS[format]?.(source);
        }
        if (!/--out|GITHUB_STEP_SUMMARY|--waivers waivers.yaml .* \w{6}$/.test(command)) expect(stdout).not.toBe('');
        printed += stdout;
      }
      if (after?.lang !== 'text') return;
      for (const line of after.value.split('\n')) expect(printed).toContain(line);
    },
  );

  it('fail a workflow at what is new', async () => {
    const [workflow] = withExamples.filter(({ block }) => block.value.startsWith('on: pull_request'));
    const folder = workspace();
    writeFileSync(join(folder, 'old.zip'), await schoolWith(withLargerSupply)); // the overload of 1.2 is not there yet
    const codes: (number | null)[] = [];
    for (const { command } of workflow?.block.examples ?? []) codes.push((await run(command, folder)).code);
    expect(codes).toEqual([0, 0, 0, 1]);
    expect(readFileSync(join(folder, 'summary.md'), 'utf8')).toContain('Line 1.2 is charged with 362.7 mA');
  });
});

describe('the finding of the README', () => {
  it('is one of the demo', async () => {
    const { stdout } = await run('linebudget audit --format json fixtures/demo.zip', workspace());
    const { findings }: Pick<Report, 'findings'> = JSON.parse(stdout);
    const [shown] = blocks.filter(({ lang, value }) => lang === 'json' && value.startsWith('"measure"'));
    expect(findings.map(({ measure }) => measure)).toContainEqual(JSON.parse(`{${shown?.value}}`).measure);
  });
});
