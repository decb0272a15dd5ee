#!/usr/bin/env node
import { InputError } from '../errors.js';
import { TOOL } from '../version.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { rulesCommand } from './rules.js';
import { serveCommand } from './serve.js';
import { tokenCommand } from './token.js';
import { CallError, USAGE, UsageError } from './usage.js';

async function run([first, ...args]: readonly string[]): Promise<ExitCode> {
  const command = args[0] === '--help' ? '--help' : first;
  switch (command) {
    case 'audit': {
      // The service, which audits on threads of its own, starts without it.
      const { auditCommand } = await import('./audit.js');
      return auditCommand(args);
    }
    case 'plan': {
      const { planCommand } = await import('./plan.js');
      return planCommand(args);
    }
    case 'unknowns': {
      const { unknownsCommand } = await import('./unknowns.js');
      return unknownsCommand(args);
    }
    case 'site-sheet': {
      const { siteSheetCommand } = await import('./site-sheet.js');
      return siteSheetCommand(args);
    }
    case 'compare': {
      const { compareCommand } = await import('./compare.js');
      return compareCommand(args);
    }
    case 'what-if': {
      const { whatIfCommand } = await import('./what-if.js');
      return whatIfCommand(args);
    }
    case 'waive': {
      const { waiveCommand } = await import('./waive.js');
      return waiveCommand(args);
    }
    case 'diagnose': {
      const { diagnoseCommand } = await import('./diagnose.js');
      return diagnoseCommand(args);
    }
    case 'policy': {
      const { policyCommand } = await import('./policy.js');
      return policyCommand(args);
    }
    case 'rules':
      return rulesCommand(args);
    case 'serve':
      return serveCommand(args);
    case 'token':
      return tokenCommand(args);
    case '--version':
      process.stdout.write(`${TOOL.name} ${TOOL.version}\n`);
      return EXIT.fine;
    case '--help':
      process.stdout.write(USAGE);
      return EXIT.fine;
    default:
      throw new UsageError(command === undefined ? 'name a command' : `there is no command "${command}"`);
  }
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
