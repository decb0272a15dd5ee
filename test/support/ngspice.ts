import { spawnSync } from 'node:child_process';
import type { TestContext } from 'vitest';

/** An independent solver of circuits; set this where its absence has to be a failure. */
const REQUIRE = 'LINEBUDGET_REQUIRE_NGSPICE';

const PROGRAM = 'ngspice';
const isThere = spawnSync(PROGRAM, ['--version'], { stdio: 'ignore' }).status === 0;

/** Skips a test, with the reason, where ngspice is not on the machine. */
export function needsNgspice(context: TestContext): void {
  if (isThere) return;
  if (process.env[REQUIRE]) {
    throw new Error(`${REQUIRE} is set, and ngspice is not on this machine: install the package ngspice`);
  }
  context.skip('ngspice is not on this machine');
}

/**
 * What the nodes of a circuit come to when it is switched on, V: it runs from its initial conditions until it rests.
 * The first steps are short, as a long one leaps over the state that it should come to rest at.
 *
 * The exit status of ngspice says nothing (it is 0 where nothing converged): what is printed is all there is to go by.
 * @param elements lines of a netlist, with time constants of about 1 ms
 */
export function voltagesAtRest(elements: readonly string[], nodes: readonly string[]): number[] {
  const netlist = [
    'network',
    ...elements,
    '.options reltol=1e-9 abstol=1e-12 vntol=1e-9 method=gear',
    '.control',
    'set numdgt=12',
    'tran 1e-5 0.05 uic',
    `let last = length(V(${nodes[0]})) - 1`,
    ...nodes.map((node) => `print V(${node})[last]`),
    'quit',
    '.endc',
    '.end',
    '',
  ].join('\n');
  const { stdout, stderr, error } = spawnSync(PROGRAM, ['-b'], { input: netlist, encoding: 'utf8', timeout: 60_000 });
  if (error) throw error;
  const printed = [...stdout.matchAll(/^v\(\w+\)\[last\] = (\S+)$/gim)].map(([, value]) => Number(value));
  if (printed.length !== nodes.length) throw new Error(`ngspice came to no rest: ${stderr}\n${netlist}`);
  return printed;
}
