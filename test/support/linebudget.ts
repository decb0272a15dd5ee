import { type ChildProcess, spawn } from 'node:child_process';
import { text } from 'node:stream/consumers';
import { fileURLToPath } from 'node:url';

export const MAIN = fileURLToPath(new URL('../../dist/cli/main.js', import.meta.url));

export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Starts the compiled command line, as it ships. */
export function start(...args: readonly string[]) {
  return spawn(process.execPath, [MAIN, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
}

export function ended(child: ChildProcess): Promise<Pick<Ended, 'code' | 'signal'>> {
  return new Promise((resolve) => child.once('close', (code, signal) => resolve({ code, signal })));
}

/** Runs it to its end. */
export async function linebudget(...args: readonly string[]): Promise<Ended> {
  const child = start(...args);
  const [end, stdout, stderr] = await Promise.all([ended(child), text(child.stdout), text(child.stderr)]);
  return { ...end, stdout, stderr };
}
