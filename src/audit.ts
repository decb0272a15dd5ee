import { Archive } from './archive/archive.js';
import { balancesOf } from './electrical/balance.js';
import { InputError } from './errors.js';
import { type Document, digest, type Given } from './given.js';
import { readProjects } from './interchange/read.js';
import type { ProjectRecord } from './interchange/records.js';
import { DEFAULT_LIMITS, type Limits } from './limits.js';
import { type Project, segmentsOf } from './plant/plant.js';
import { DEFAULT_POLICY } from './policy/effective.js';
import { divided, NOBODY, type OnProgress, ProgressMeter, type Tell } from './progress.js';
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

/** What takes how much of a stage, by the measurement that the weights of stages are from. */
const PLANT_AND_JUDGING = [1, 2];
const BALANCES_AND_RULES = [1, 2];
const REPORT_OF_WRITING = 0.4;

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
  /**
   * Told how far the audit has come, wherever its share has grown. It ends below 1, as a format is made of the report
   * after that.
   */
  readonly onProgress?: OnProgress | undefined;
}

/**
 * Audits a project archive: archive → interchange → plant → electrical → rules → report.
 * @param file the archive's bytes, whatever its name
 * @throws InputError where the file cannot be audited; there is no partial report
 */
export async function audit(file: Uint8Array, options: AuditOptions = {}): Promise<Report> {
  const meter = new ProgressMeter(options.onProgress);
  const read = await readRecords(file, options.limits, meter.of('reading'));
  return auditRecords(read.records, read.file, options, meter);
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
export async function readRecords(
  file: Uint8Array,
  limits: Limits = DEFAULT_LIMITS,
  tell: Tell = NOBODY,
): Promise<ReadRecords> {
  tell(0);
  const archive = Archive.open(file, limits);
  const records = await readProjects(archive, limits, tell);
  const { sha256, bytes, partsRead } = archive;
  return { records, file: { source: 'archive', sha256, bytes, partsRead } };
}

/**
 * Audits what a plan says: tender → plant and on, as of an archive.
 * @throws InputError where the plan, or what goes along with it, cannot be used
 */
export async function auditPlan(plan: Document, options: AuditOptions = {}): Promise<Report> {
  const meter = new ProgressMeter(options.onProgress);
  meter.at('reading', 0);
  const record = recordsOf(await readPlan(plan.text, plan.name));
  const file = {
    source: 'plan',
    sha256: digest(plan.text),
    bytes: Buffer.byteLength(plan.text),
    partsRead: [],
  } as const;
  return auditRecords([record], file, options, meter);
}

/**
 * Audits records, whatever they were made of: plant → electrical → rules → report.
 * @throws InputError where there is nothing to audit, the site sheet is of something else, or the report grows too long
 */
export async function auditRecords(
  records: readonly ProjectRecord[],
  file: AuditedFile,
  options: AuditOptions = {},
  meter: ProgressMeter = new ProgressMeter(options.onProgress),
): Promise<Report> {
  const { policy = DEFAULT_POLICY, site = null, limits = DEFAULT_LIMITS, words = EN, rules = rulesIn(words) } = options;
  const [tellPlant = NOBODY, tellJudged = NOBODY] = divided(meter.of('judging'), PLANT_AND_JUDGING);
  tellPlant(0);
  const { projects, sites } = plantOf(records, file.sha256, { policy, site }, options.edit);
  const all = projects.flatMap((project) =>
    project.installations.map((installation) => ({
      project,
      installation,
      policy: policy.values,
      site: sites.get(installation) ?? null,
      words,
    })),
  );
  const judged = judge(all, rules, tellJudged);
  const installations = await sized(judged, meter.of('sizing'));
  const tellReport = meter.of('writing');
  tellReport(0);
  for (const { rule, cause } of installations.flatMap(({ run }) => run.failures)) options.onRuleFailure?.(rule, cause);
  const siteSha256 = site?.sha256 ?? null;
  const report = buildReport({ ...file, projects, installations, policy, siteSha256, rules, words });
  const marked = held(report, options);
  refuseLong(marked, limits);
  tellReport(REPORT_OF_WRITING);
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

type Judged = Omit<AuditedInstallation, 'proposals'>;

function judge(installations: readonly Omit<RuleContext, 'balances'>[], rules: readonly Rule[], tell: Tell): Judged[] {
  const tells = bySegments(tell, installations);
  return installations.map((given, index) => {
    const { installation, policy, site, words } = given;
    const [tellBalances = NOBODY, tellRules = NOBODY] = divided(tells[index] ?? NOBODY, BALANCES_AND_RULES);
    tellBalances(0);
    const context = { ...given, balances: balancesOf(segmentsOf(installation), policy, site, words) };
    return { context, run: runRules(rules, context, tellRules) };
  });
}

async function sized(judged: readonly Judged[], tell: Tell): Promise<AuditedInstallation[]> {
  const tells = bySegments(
    tell,
    judged.map(({ context }) => context),
  );
  const installations: AuditedInstallation[] = [];
  for (const [index, { context, run }] of judged.entries()) {
    installations.push({ context, run, proposals: await proposalsOf(context, tells[index]) });
  }
  return installations;
}

/** How installations that follow each other tell of themselves, each of which takes as much as it has segments. */
function bySegments(tell: Tell, installations: readonly Pick<RuleContext, 'installation'>[]): Tell[] {
  tell(0);
  return divided(
    tell,
    installations.map(({ installation }) => segmentsOf(installation).length),
  );
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
