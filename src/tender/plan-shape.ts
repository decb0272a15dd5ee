import type { z } from 'zod';
import { line, list, section } from '../documents/shape.js';
import { checkPlan } from './checks.js';
import { LINE, MOST_LINES } from './shapes.js';

export const planSchema = section({
  $schema: line(500, 'where an editor finds the JSON Schema').optional(),
  project: line(400, 'what the project is called').optional(),
  lines: list(LINE, 'lines', MOST_LINES).min(1, { error: `a list of 1 to ${MOST_LINES} lines` }),
}).superRefine(checkPlan);

type Checked = z.infer<typeof planSchema>;

/** A plan that contradicts itself nowhere, with the lines of its text. */
export interface Plan extends Checked {
  readonly lineOf: (path: readonly PropertyKey[]) => number;
}

export type PlannedLine = Checked['lines'][number];
export type PlannedDevices = PlannedLine['devices'][number];
