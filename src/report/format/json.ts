import type { Report } from '../report.js';

/** The report as it is. */
export function formatJson(report: Report): string {
  return `${JSON.stringify(report, null, 2)}\n`;
}
