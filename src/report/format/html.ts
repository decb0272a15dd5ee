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
