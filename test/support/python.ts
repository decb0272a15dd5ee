import { spawnSync } from 'node:child_process';
import type { TestContext } from 'vitest';

/** Independent readers are written in python; set this where their absence has to be a failure. */
const REQUIRE = 'LINEBUDGET_REQUIRE_PYTHON';

const isThere = spawnSync('python3', ['-c', 'import zipfile, xml.etree.ElementTree'], { stdio: 'ignore' }).status === 0;

/** Skips a test, with the reason, where python3 is not on the machine. */
export function needsPython(context: TestContext): void {
  if (isThere) return;
  if (process.env[REQUIRE]) throw new Error(`${REQUIRE} is set, and python3 is not on this machine`);
  context.skip('python3 is not on this machine');
}

/** What a python program writes to its standard output. */
export function python(...parameters: readonly string[]): Buffer {
  return pythonFed('', ...parameters);
}

/** What a python program writes to its standard output when it finds something on its standard input. */
export function pythonFed(input: string | Uint8Array, ...parameters: readonly string[]): Buffer {
  const { status, stdout, stderr, error } = spawnSync('python3', parameters, { input, maxBuffer: 256 * 1024 * 1024 });
  if (error) throw error;
  if (status !== 0) throw new Error(`python3 ended with ${status}: ${stderr.toString()}`);
  return stdout;
}
