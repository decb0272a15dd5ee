import type { Report } from '../report.js';
import type { FormatContext } from './context.js';

/** The report as one web page. What makes it is loaded when somebody asks for one. */
export async function formatHtml(report: Report, context: FormatContext): Promise<string> {
  const { reportPage } = await import('./html/page.js');
  return reportPage(report, context);
}

/** What a browser lets the page do, for the header of an answer: the page says the same of itself. */
export async function htmlPolicy(): Promise<string> {
  const { PAGE_POLICY } = await import('./html/assets.js');
  return PAGE_POLICY;
}

/** Its style and its script, as the policy of another page names them from which it is opened. */
export async function htmlDigests(): Promise<{ readonly style: string; readonly script: string }> {
  const { DIGESTS } = await import('./html/assets.js');
  return DIGESTS;
}
