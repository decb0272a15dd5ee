import { createReadStream } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import { audit } from '../audit.js';
import { InputError } from '../errors.js';
import { ARCHIVE_LIMIT_NAMES, type Limits, limitsWith } from '../limits.js';
import { FORMAT_NAMES, FORMATS, type FormatName } from '../report/format/index.js';
import { summaryLine } from '../report/format/text.js';
import type { Report } from '../report/report.js';
import { EXIT, type ExitCode, exitCodeOf, FAIL_ON, type FailOn, worst } from './exit-code.js';
import { limitValues } from './limit-option.js';
import { CallError, FORMATS_OF_SEVERAL, oneOf, UsageError } from './usage.js';

interface Settings {
  readonly files: readonly string[];
  readonly format: FormatName;
  readonly out: string | undefined;
  readonly failOn: FailOn;
  readonly limits: Limits;
}

/** One archive of the call: its report, or why there is none. */
interface Result {
  readonly file: string;
  readonly outcome: Report | { readonly problem: string; readonly code: string };
  readonly exit: ExitCode;
}

/** `linebudget audit FILE…`: reports to standard output or a file, a summary line per archive to standard error. */
export async function auditCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const results: Result[] = [];
  for (const file of settings.files) {
    const result = await auditFile(file, settings);
    console.error(`${file}: ${summaryOf(result)}`);
    results.push(result);
  }
  await write(render(results, settings.format), settings.out);
  return worst(results.map(({ exit }) => exit));
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      'fail-on': { type: 'string', default: 'error' },
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  if (positionals.length === 0) throw new UsageError('name at least one project archive');
  const format = oneOf('format', values.format, FORMAT_NAMES);
  if (positionals.length > 1 && !FORMATS_OF_SEVERAL.includes(format)) {
    throw new UsageError(`--format ${format} takes one archive; ${FORMATS_OF_SEVERAL.join(' and ')} take several`);
  }
  return {
    files: positionals,
    format,
    out: values.out,
    failOn: oneOf('fail-on', values['fail-on'], FAIL_ON),
    limits: limitsWith(limitValues(values.limit, ARCHIVE_LIMIT_NAMES)),
  };
}

async function auditFile(file: string, { failOn, limits }: Settings): Promise<Result> {
  try {
    const report = await audit(await readArchive(file, limits), { limits, onRuleFailure: printRuleFailure });
    return { file, outcome: report, exit: exitCodeOf(report, failOn) };
  } catch (cause) {
    if (cause instanceof InputError) return failed(file, cause.message, cause.code, EXIT.badInput);
    if (isFileError(cause))
      return failed(file, `the file cannot be read (${cause.code})`, 'unreadable-file', EXIT.badInput);
    console.error(cause);
    return failed(file, 'the audit failed by a fault of this tool; please report it', 'internal-fault', EXIT.fault);
  }
}

function failed(file: string, problem: string, code: string, exit: ExitCode): Result {
  return { file, outcome: { problem, code }, exit };
}

function isFileError(cause: unknown): cause is NodeJS.ErrnoException {
  return cause instanceof Error && 'syscall' in cause && 'code' in cause;
}

/** The file's bytes; of one over the limit, or without end, no more than that is read. */
async function readArchive(file: string, { uploadBytes }: Limits): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let bytes = 0;
  for await (const piece of createReadStream(file)) {
    bytes += piece.length;
    if (bytes > uploadBytes) {
      throw new InputError(
        'limit-exceeded',
        `the archive has more than ${uploadBytes} bytes; the limit uploadBytes is ${uploadBytes}`,
      );
    }
    pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

function printRuleFailure(rule: string, cause: unknown): void {
  console.error(`The rule ${rule} failed by a fault of this tool:`, cause);
}

function summaryOf({ outcome }: Pick<Result, 'outcome'>): string {
  return 'problem' in outcome ? `${outcome.problem} [${outcome.code}]` : summaryLine(outcome);
}

/** One archive gives its report as it is; several give, in JSON, a list of file and report or problem. */
function render(results: readonly Result[], format: FormatName): string {
  if (format === 'json' && results.length > 1) {
    const entries = results.map(({ file, outcome }) =>
      'problem' in outcome ? { file, ...outcome } : { file, report: outcome },
    );
    return `${JSON.stringify(entries, null, 2)}\n`;
  }
  const texts = results.flatMap(({ file, outcome }) => {
    const text = 'problem' in outcome ? undefined : FORMATS[format].format(outcome, { archive: file });
    if (results.length === 1) return text === undefined ? [] : [text];
    return [`${file}\n${'='.repeat(file.length)}\n\n${text ?? `NOT AUDITED: ${summaryOf({ outcome })}\n`}`];
  });
  return texts.join('\n');
}

async function write(text: string, out: string | undefined): Promise<void> {
  if (out === undefined) {
    process.stdout.write(text);
    return;
  }
  try {
    // An older report must not pass for that of an archive that could not be audited.
    if (text === '') await rm(out, { force: true });
    else await writeFile(out, text);
  } catch (cause) {
    throw isFileError(cause) ? new CallError(`--out ${out} cannot be written (${cause.code})`) : cause;
  }
}
