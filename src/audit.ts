import { Archive } from './archive/archive.js';
import { balancesOf } from './electrical/balance.js';
import { InputError } from './errors.js';
import { type Document, digest, type Given } from './given.js';
import { readProjects } from './interchange/read.js';
import type { ProjectRecord } from './interchange/records.js';
import { DEFAULT_LIMITS, type Limits } from './limits.js';
import { type Project, segmentsOf } from './plant/plant.js';
import { DEFAULT_POLICY } from './policy/effective.js';
import { againstBaseline } from './report/baseline.js';
import { type AuditedFile, type AuditedInstallation, buildReport } from './report/build.js';
import { refuseLong } from './report/length.js';
import type { Report } from './report/report.js';
import { applyWaivers } from './report/waivers.js';
import { rulesIn } from './rules/index.js';
import type { Rule, RuleContext } from './rules/rule.js';
import { runRules } from './rules/run.js';
import { buildPlant, type RecordsEdit } from './site/build.js';
import type { ResolvedSite } from './site/resolve.js';
import { proposalsOf } from './sizing/proposals.js';
import { readPlan } from './tender/plan.js';
import { recordsOf } from './tender/records.js';
import { EN } from './words/en/words.js';
import type { Words } from './words/words.js';

export interface AuditOptions extends Partial<Given> {
  /** The day on which waivers are judged, YYYY-MM-DD in UTC; there is no waiver without one. */
  readonly asOf?: string;
  readonly limits?: Limits;
  /** What texts for people are made of; English unless set. Figures, judgements and fingerprints are the same with any. */
  readonly words?: Words;
  readonly rules?: readonly Rule[];
  /** What is done to the records before the plant is built, once a site sheet has parted lines. */
  readonly edit?: RecordsEdit;
  /** Told of faults of our own rules; the report is then marked incomplete. */
  readonly onRuleFailure?: (rule: string, cause: unknown) => void;
}

/**
 * Audits a project archive: archive → interchange → plant → electrical → rules → report.
 * @param file the archive's bytes, whatever its name
 * @throws InputError where the file cannot be audited; there is no partial report
 */
export async function audit(file: Uint8Array, options: AuditOptions = {}): Promise<Report> {
  const read = await readRecords(file, options.limits);
  return auditRecords(read.records, read.file, options);
}

/** What a project archive says, and what a report says of the archive itself. */
export interface ReadRecords {
  readonly records: readonly ProjectRecord[];
  readonly file: AuditedFile;
}

/**
 * Reads the records of a project archive.
 * @param file the archive's bytes, whatever its name
 * @throws InputError where the file cannot be read
 */
export async function readRecords(file: Uint8Array, limits: Limits = DEFAULT_LIMITS): Promise<ReadRecords> {
  const archive = Archive.open(file, limits);
  const records = await readProjects(archive, limits);
  const { sha256, bytes, partsRead } = archive;
  return { records, file: { source: 'archive', sha256, bytes, partsRead } };
}

/**
 * Audits what a plan says: tender → plant and on, as of an archive.
 * @throws InputError where the plan, or what goes along with it, cannot be used
 */
export async function auditPlan(plan: Document, options: AuditOptions = {}): Promise<Report> {
  const record = recordsOf(await readPlan(plan.text, plan.name));
  const file = {
    source: 'plan',
    sha256: digest(plan.text),
    bytes: Buffer.byteLength(plan.text),
    partsRead: [],
  } as const;
  return auditRecords([record], file, options);
}

/**
 * Audits records, whatever they were made of: plant → electrical → rules → report.
 * @throws InputError where there is nothing to audit, the site sheet is of something else, or the report grows too long
 */
export async function auditRecords(
  records: readonly ProjectRecord[],
  file: AuditedFile,
  options: AuditOptions = {},
): Promise<Report> {
  const { policy = DEFAULT_POLICY, site = null, limits = DEFAULT_LIMITS, words = EN, rules = rulesIn(words) } = options;
  const { projects, sites } = plantOf(records, file.sha256, { policy, site }, options.edit);
  const installations: AuditedInstallation[] = [];
  for (const project of projects) {
    for (const installation of project.installations) {
      const given = { project, installation, policy: policy.values, site: sites.get(installation) ?? null, words };
      installations.push(await judge(given, rules));
    }
  }
  for (const { rule, cause } of installations.flatMap(({ run }) => run.failures)) options.onRuleFailure?.(rule, cause);
  const siteSha256 = site?.sha256 ?? null;
  const report = buildReport({ ...file, projects, installations, policy, siteSha256, rules, words });
  const marked = held(report, options);
  refuseLong(marked, limits);
  return marked;
}

/** An archive that was read, and the plant that it is of. */
export interface ReadPlant extends ResolvedSite {
  readonly archive: Archive;
}

/**
 * Reads the plant of a project archive without judging it.
 * @param file the archive's bytes, whatever its name
 * @throws InputError where the file cannot be read, or has nothing to audit
 */
export async function readPlant(
  file: Uint8Array,
  {
    policy = DEFAULT_POLICY,
    site = null,
    limits = DEFAULT_LIMITS,
  }: Pick<AuditOptions, 'policy' | 'site' | 'limits'> = {},
): Promise<ReadPlant> {
  const archive = Archive.open(file, limits);
  const records = await readProjects(archive, limits);
  return { archive, ...plantOf(records, archive.sha256, { policy, site }) };
}

function plantOf(
  records: readonly ProjectRecord[],
  sha256: string,
  { policy, site }: Pick<Given, 'policy' | 'site'>,
  edit?: RecordsEdit,
): ResolvedSite {
  const plant = buildPlant(records, policy.values, site?.sheet ?? null, sha256, edit);
  refuseEmpty(plant.projects);
  return plant;
}

/** The report held against what was accepted, and against an earlier one. */
function held(report: Report, { waivers = [], asOf, baseline = null, words }: AuditOptions): Report {
  if (waivers.length > 0 && asOf === undefined) throw new Error('waivers are judged on a day');
  const waived = asOf === undefined ? report : applyWaivers(report, waivers, asOf, words);
  return baseline === null ? waived : againstBaseline(waived, baseline);
}

async function judge(given: Omit<RuleContext, 'balances'>, rules: readonly Rule[]): Promise<AuditedInstallation> {
  const { installation, policy, site, words } = given;
  const context = { ...given, balances: balancesOf(segmentsOf(installation), policy, site, words) };
  return { context, run: runRules(rules, context), proposals: await proposalsOf(context) };
}

/** A check that looked at nothing must not look like one that found nothing. */
function refuseEmpty(projects: readonly Project[]): void {
  for (const { id, installations } of projects) {
    if (installations.some((installation) => segmentsOf(installation).length > 0)) continue;
    throw new InputError(
      'no-segments',
      `project ${id} has no line segment, so there is nothing to audit; check that the export holds the topology`,
      { part: installations[0]?.part },
    );
  }
}
