import { checkDocument, DocumentError, parseWithLines } from '../documents/document.js';
import { InputError } from '../errors.js';
import { type Plan, planSchema } from './plan-shape.js';

/**
 * Reads a plan, in YAML, JSON or CSV; which it is, is seen from its first line.
 * @param name what errors call the file
 * @throws InputError `invalid-plan` with place, value and what is allowed for each fault
 */
export async function readPlan(source: string, name: string): Promise<Plan> {
  const table = await import('./plan-table.js'); // what reads CSV is loaded where there is a plan
  if (table.isPlanTable(source)) return table.readPlanTable(source, name);
  try {
    const { value, lineOf } = await parseWithLines(source);
    return { ...checkDocument(planSchema, mappingOf(value)), lineOf };
  } catch (cause) {
    throw cause instanceof DocumentError ? new InputError('invalid-plan', cause.message, { part: name }) : cause;
  }
}

/** A text that is neither mapping nor list may be meant as a list with other headings. */
function mappingOf(value: unknown): unknown {
  if (typeof value === 'object') return value;
  throw new DocumentError([
    'it is no mapping of project and lines, and its first line has not the headings of a list, line and count among them',
  ]);
}
