#!/usr/bin/env node
import { InputError } from '../errors.js';
import { TOOL } from '../version.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { CallError, USAGE, UsageError } from './usage.js';

type Command = (args: readonly string[]) => ExitCode | Promise<ExitCode>;

/** The commands by name. Each is loaded where it is called: the service starts without what audits, and the others without the server. */
const COMMANDS = new Map<string | undefined, () => Promise<Command>>([
  ['audit', async () => (await import('./audit.js')).auditCommand],
  ['plan', async () => (await import('./plan.js')).planCommand],
  ['unknowns', async () => (await import('./unknowns.js')).unknownsCommand],
  ['site-sheet', async () => (await import('./site-sheet.js')).siteSheetCommand],
  ['compare', async () => (await import('./compare.js')).compareCommand],
  ['what-if', async () => (await import('./what-if.js')).whatIfCommand],
  ['waive', async () => (await import('./waive.js')).waiveCommand],
  ['diagnose', async () => (await import('./diagnose.js')).diagnoseCommand],
  ['policy', async () => (await import('./policy.js')).policyCommand],
  ['rules', async () => (await import('./rules.js')).rulesCommand],
  ['serve', async () => (await import('./serve.js')).serveCommand],
  ['token', async () => (await import('./token.js')).tokenCommand],
]);

async function run([first, ...args]: readonly string[]): Promise<ExitCode> {
  if (first === '--help' || args[0] === '--help') return printed(USAGE);
  if (first === '--version') return printed(`${TOOL.name} ${TOOL.version}\n`);
  const command = COMMANDS.get(first);
  if (command === undefined)
    throw new UsageError(first === undefined ? 'name a command' : `there is no command "${first}"`);
  return (await command())(args);
}

function printed(text: string): ExitCode {
  process.stdout.write(text);
  return EXIT.fine;
}

function exitCodeFor(cause: unknown): ExitCode {
  if (cause instanceof CallError) {
    console.error(`linebudget: ${cause.message}`);
    return EXIT.badInput;
  }
  if (cause instanceof InputError) {
    console.error(`linebudget: ${cause.message} [${cause.code}]`);
    return EXIT.badInput;
  }
  if (!isUsageError(cause)) {
    console.error(cause);
    return EXIT.fault;
  }
  console.error(`linebudget: ${cause.message}\n\n${USAGE}`);
  return EXIT.badInput;
}

function isUsageError(cause: unknown): cause is Error {
  const isArgumentError = cause instanceof Error && 'code' in cause && String(cause.code).startsWith('ERR_PARSE_ARGS_');
  return isArgumentError || cause instanceof UsageError;
}

// A reader that has seen enough (`| head`) is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

try {
  process.exitCode = await run(process.argv.slice(2));
} catch (cause) {
  process.exitCode = exitCodeFor(cause);
}
