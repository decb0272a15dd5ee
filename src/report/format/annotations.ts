import type { Severity } from '../../policy/policy.js';
import type { Report, ReportFinding, ReportRule } from '../report.js';
import { archivePath } from './archive-path.js';
import type { FormatContext } from './context.js';
import { printable } from './layout.js';
import { summaryLine } from './text.js';

/** The workflow command that shows a finding of each severity. */
const COMMANDS = { error: 'error', warning: 'warning', note: 'notice' } as const satisfies Record<Severity, string>;

/**
 * Workflow commands, one a line, that the runner of a build shows as annotations. The runner shows the first ten of each
 * level (from memory, not confirmed), so the worst come first; all are in the log. Waived findings are only counted.
 */
export function formatAnnotations(report: Report, { archive }: FormatContext): string {
  const rules = new Map(report.rules.map((rule) => [rule.id, rule]));
  const file = archivePath(archive);
  const shown = report.findings.filter(({ waiver }) => waiver === null);
  const lines = [...shown.map((finding) => annotation(finding, file, rules.get(finding.rule))), counts(report)];
  return `${lines.join('\n')}\n`;
}

function annotation(
  { severity, rule, message, remedy, location }: ReportFinding,
  file: string,
  doc: ReportRule | undefined,
): string {
  const { part, line } = location;
  const place = line === null ? part : `${part}:${line}`;
  const properties = { file, line: String(line ?? 1), title: doc?.title ?? rule };
  return command(COMMANDS[severity], properties, `${message} ${remedy} [${rule}, ${place}]`);
}

function counts(report: Report): string {
  return command('notice', { title: report.tool.name }, summaryLine(report));
}

function command(name: string, properties: Readonly<Record<string, string>>, message: string): string {
  const list = Object.entries(properties).map(([key, value]) => `${key}=${escapedProperty(value)}`);
  return `::${name} ${list.join(',')}::${escapedData(message)}`;
}

/**
 * Escapes as the runner undoes them (from memory, not confirmed). No line break is left to escape, as a text is first
 * put on one line: a name must not begin a command of its own, also where a reader takes other characters for breaks.
 */
function escapedData(text: string): string {
  return printable(text).replaceAll('%', '%25');
}

function escapedProperty(text: string): string {
  return escapedData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
