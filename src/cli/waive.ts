import { parseArgs } from 'node:util';
import { audit } from '../audit.js';
import { checkDocument, DocumentError } from '../documents/document.js';
import { InputError, quoted, UNPRINTABLE } from '../errors.js';
import type { Limits } from '../limits.js';
import { PLANT_RULE_IDS } from '../policy/rule-ids.js';
import { type Waiver, waiverSchema } from '../policy/waivers.js';
import type { Report, ReportFinding, ReportMeasure } from '../report/report.js';
import { isFileError, readArchive } from './archive-file.js';
import { EXIT, type ExitCode } from './exit-code.js';
import { type GivenValues, givenBy, JUDGING_OPTIONS } from './given-files.js';
import { archiveLimits } from './limit-option.js';
import { CallError, UsageError } from './usage.js';
import { appendWaiver, newWaiversFile } from './waivers-file.js';

interface Settings {
  readonly archive: string;
  /** The fingerprint of a finding, or how it begins. */
  readonly fingerprint: string;
  readonly waivers: string | undefined;
  readonly terms: Pick<Waiver, 'reason' | 'author' | 'expires' | 'raiseAbove'>;
  readonly limits: Limits;
  readonly given: GivenValues;
}

/** `linebudget waive ARCHIVE FINGERPRINT`: accepts a finding; the entry goes into a file or to standard output. */
export async function waiveCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const { fingerprint, waivers, terms } = settings;
  const finding = findingOf(await reportOf(settings), fingerprint);
  const entry = entryFor(finding, terms);
  const comment = oneLine(finding.message);
  if (waivers === undefined) process.stdout.write(await newWaiversFile(entry, comment));
  else {
    await appendWaiver(waivers, entry, comment);
    console.error(`${waivers}: ${entry.rule} for ${entry.subject ?? 'its subject'} is accepted until ${entry.expires}`);
  }
  return EXIT.fine;
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      reason: { type: 'string' },
      author: { type: 'string' },
      expires: { type: 'string' },
      'raise-above': { type: 'string' },
      waivers: { type: 'string' },
      ...JUDGING_OPTIONS,
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const [archive, fingerprint, ...more] = positionals;
  if (archive === undefined || fingerprint === undefined || more.length > 0) {
    throw new UsageError('name a project archive and the fingerprint of a finding');
  }
  const { reason, author, expires, 'raise-above': raiseAbove, waivers } = values;
  if (reason === undefined || author === undefined || expires === undefined) {
    throw new UsageError('a waiver needs --reason, --author and --expires');
  }
  return {
    archive,
    fingerprint: fingerprintOf(fingerprint),
    waivers,
    terms: { reason, author, expires, raiseAbove },
    limits: archiveLimits(values.limit),
    given: { policy: values.policy, products: values.products, site: values.site, measured: values.measured },
  };
}

function fingerprintOf(given: string): string {
  if (/^[0-9a-f]{6,32}$/i.test(given)) return given.toLowerCase();
  throw new UsageError(`a fingerprint is 32 hexadecimal digits, of which the first 6 may do, not ${quoted(given)}`);
}

async function reportOf({ archive, limits, given }: Settings): Promise<Report> {
  try {
    return await audit(await readArchive(archive, limits), { ...(await givenBy(given)), limits });
  } catch (cause) {
    if (cause instanceof InputError) throw new CallError(`${archive}: ${cause.message} [${cause.code}]`);
    throw isFileError(cause) ? new CallError(`${archive}: the file cannot be read (${cause.code})`) : cause;
  }
}

const MOST_CANDIDATES = 20;

/** The finding that a fingerprint, or its beginning, is of. */
function findingOf({ findings }: Report, beginning: string): ReportFinding {
  const matching = findings.filter(({ fingerprint }) => fingerprint.startsWith(beginning));
  const [first] = matching;
  if (first !== undefined && matching.every(({ fingerprint }) => fingerprint === first.fingerprint)) return first;
  if (first !== undefined) {
    throw new CallError(`several findings have a fingerprint that begins with ${beginning}:\n${candidates(matching)}`);
  }
  const instead = findings.length === 0 ? ', nor any other' : `; there are:\n${candidates(findings)}`;
  throw new CallError(`there is no finding with a fingerprint that begins with ${beginning}${instead}`);
}

function candidates(findings: readonly ReportFinding[]): string {
  const shown = findings.slice(0, MOST_CANDIDATES);
  const lines = shown.map(({ fingerprint, rule, subject }) => `  ${fingerprint}  ${rule}  ${oneLine(subject.label)}`);
  const rest = findings.length - shown.length;
  return [...lines, ...(rest > 0 ? [`  and ${rest} more`] : [])].join('\n');
}

/** The entry, held against the shape that the file is read with. */
function entryFor({ fingerprint, rule, subject, measure }: ReportFinding, terms: Settings['terms']): Waiver {
  const { reason, author, expires, raiseAbove } = terms;
  const about = [...oneLine(subject.label)].slice(0, LONGEST_SUBJECT).join('').trim();
  const accepted = acceptedFigure(measure);
  const entry = {
    fingerprint,
    rule: PLANT_RULE_IDS.find((id) => id === rule),
    ...(about === '' ? {} : { subject: about }),
    reason,
    author,
    expires,
    ...(accepted === null ? {} : { accepted }),
    ...(raiseAbove === undefined ? {} : { raiseAbove }),
  };
  try {
    return checkDocument(waiverSchema, entry);
  } catch (cause) {
    throw cause instanceof DocumentError ? new CallError(cause.message) : cause;
  }
}

const LONGEST_SUBJECT = 200;

/** The figure as it is accepted: a share to a tenth, towards the worse so that it covers what is there now. */
function acceptedFigure({ value, unit, share, holds }: ReportMeasure): string | null {
  if (value === null) return null;
  if (share === null) return `${value} ${unit}`;
  const tenths = Math.round(share * 1e9) / 1e6;
  return `${(holds === 'at least' ? Math.floor(tenths) : Math.ceil(tenths)) / 10} %`;
}

/** A text out of an archive, fit for a line of the terminal or of a file. */
function oneLine(text: string): string {
  return text.replace(UNPRINTABLE, ' ');
}
