import { parseArgs } from 'node:util';
import { parseDocument } from '../documents/document.js';
import { readGiven } from '../given.js';
import type { Limits } from '../limits.js';
import { wordsFor } from '../report/format/index.js';
import { diagnosisText } from '../report/format/text-site.js';
import type { Report, ReportSegment } from '../report/report.js';
import { SYMPTOMS } from '../site/site.js';
import type { Language } from '../words/language.js';
import type { Words } from '../words/words.js';
import { auditArchiveFile, problemLine } from './archive-file.js';
import type { ExitCode } from './exit-code.js';
import { documentOf, policyNamed } from './given-files.js';
import { LANGUAGE_OPTION, languageOf } from './language-option.js';
import { archiveLimits } from './limit-option.js';
import { writeOutput } from './output.js';
import { CallError, DIAGNOSE_FORMATS, oneOf, UsageError } from './usage.js';

interface Settings {
  readonly archive: string;
  readonly format: (typeof DIAGNOSE_FORMATS)[number];
  readonly out: string | undefined;
  readonly limits: Limits;
  readonly language: Language;
  readonly policy: string | undefined;
  readonly site: string | undefined;
  /** Null where what the site sheet says was measured is to be looked at. */
  readonly seen: Seen | null;
}

/** What was measured or seen on a segment, in the words of a site sheet. */
interface Seen {
  readonly segment: string;
  readonly measured: {
    readonly currents: readonly { readonly supply: string; readonly current: string }[];
    readonly voltages: readonly { readonly at?: string; readonly voltage: string }[];
    readonly symptom?: (typeof SYMPTOMS)[number];
  };
}

/** `linebudget diagnose ARCHIVE`: the causes that fit what was measured or seen on site, best first. */
export async function diagnoseCommand(args: readonly string[]): Promise<ExitCode> {
  const settings = parse(args);
  const { archive, limits, format, language } = settings;
  const words = await wordsFor(format, language);
  const { outcome, exit } = await auditArchiveFile(archive, { ...(await givenFor(settings)), limits, words });
  if ('problem' in outcome) throw new CallError(`${archive}: ${problemLine(outcome)}`);
  const diagnosed = diagnosedOf(outcome, settings);
  await writeOutput(render(diagnosed, format, words), settings.out);
  return exit;
}

function parse(args: readonly string[]): Settings {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      site: { type: 'string' },
      policy: { type: 'string' },
      segment: { type: 'string' },
      current: { type: 'string', multiple: true, default: [] },
      voltage: { type: 'string', multiple: true, default: [] },
      symptom: { type: 'string' },
      format: { type: 'string', default: 'text' },
      out: { type: 'string' },
      ...LANGUAGE_OPTION,
      limit: { type: 'string', multiple: true, default: [] },
    },
  });
  const [archive, ...more] = positionals;
  if (archive === undefined || more.length > 0) throw new UsageError('name one project archive');
  const { segment, current, voltage, symptom, site, policy, out } = values;
  return {
    archive,
    format: oneOf('format', values.format, DIAGNOSE_FORMATS),
    out,
    language: languageOf(values),
    limits: archiveLimits(values.limit),
    policy,
    site,
    seen: seenOf(segment, current, voltage, symptom),
  };
}

function seenOf(
  segment: string | undefined,
  currents: readonly string[],
  voltages: readonly string[],
  symptom: string | undefined,
): Seen | null {
  const isNothing = currents.length === 0 && voltages.length === 0 && symptom === undefined;
  if (segment === undefined) {
    if (isNothing) return null;
    throw new UsageError('name the --segment on which this was measured or seen');
  }
  if (isNothing) throw new UsageError(`say what was measured or seen on ${segment}: --current, --voltage or --symptom`);
  return {
    segment,
    measured: {
      currents: currents.map((text) => {
        const [supply, current] = pair('current', text, '"1.1.0=320 mA"');
        return { supply, current };
      }),
      voltages: voltages.map((text) => {
        if (!text.includes('=')) return { voltage: text };
        const [at, value] = pair('voltage', text, '"hall=27.9 V"');
        return { at, voltage: value };
      }),
      ...(symptom === undefined ? {} : { symptom: oneOf('symptom', symptom, SYMPTOMS) }),
    },
  };
}

/** A name and a value; a name may hold an equals sign, a value none. */
function pair(option: string, text: string, example: string): [string, string] {
  const at = text.lastIndexOf('=');
  if (at <= 0) throw new UsageError(`--${option} takes a name and a value such as ${example}, not "${text}"`);
  return [text.slice(0, at).trim(), text.slice(at + 1).trim()];
}

async function givenFor({ policy, site, seen }: Settings) {
  const given = site === undefined ? null : await documentOf('site', site);
  const name = given?.name ?? 'the options';
  const text = seen === null ? given?.text : withSeen(given === null ? {} : await parsed(given), seen);
  const documents = text === undefined ? {} : { site: { name, text } };
  return readGiven(documents, await policyNamed(policy));
}

/** What is no YAML is told of by the reader of the sheet. */
async function parsed({ text }: { readonly text: string }): Promise<unknown> {
  return parseDocument(text).catch(() => text);
}

/** The sheet, with what was measured or seen in place of what it says of that. */
function withSeen(sheet: unknown, { segment, measured }: Seen): string {
  if (typeof sheet !== 'object' || sheet === null || Array.isArray(sheet)) return String(sheet);
  const { segments = [] } = sheet as { readonly segments?: unknown };
  if (!Array.isArray(segments)) return JSON.stringify(sheet);
  const isNamed = (entry: unknown) => (entry as { readonly segment?: unknown } | null)?.segment === segment;
  const entries = segments.some(isNamed) ? segments : [...segments, { segment }];
  return JSON.stringify({
    ...sheet,
    segments: entries.map((entry) => (isNamed(entry) ? { ...entry, measured } : entry)),
  });
}

interface Diagnosed {
  readonly segment: string;
  readonly segmentId: string;
  readonly diagnosis: NonNullable<NonNullable<ReportSegment['onSite']>['diagnosis']>;
}

function diagnosedOf({ segments }: Report, { archive, site, seen }: Settings): Diagnosed[] {
  const diagnosed = segments.flatMap(({ id, label, onSite }) =>
    onSite?.diagnosis ? [{ segment: label, segmentId: id, diagnosis: onSite.diagnosis }] : [],
  );
  const wanted =
    seen === null ? diagnosed : diagnosed.filter((one) => [one.segment, one.segmentId].includes(seen.segment));
  if (wanted.length > 0) return wanted;
  const where = site === undefined ? 'no --site sheet is given, and no --segment' : `${site} has no measured values`;
  throw new CallError(
    `${archive}: ${where}; say what was measured or seen (--segment with --current, --voltage or --symptom)`,
  );
}

function render(diagnosed: readonly Diagnosed[], format: Settings['format'], words: Words): string {
  if (format === 'json') return `${JSON.stringify(diagnosed, null, 2)}\n`;
  return `${diagnosed.map(({ segment, diagnosis }) => diagnosisText(segment, diagnosis, words)).join('\n\n')}\n`;
}
