import type { z } from 'zod';
import { sum } from '../units.js';
import { type LINE, MOST_DEVICES, MOST_ON_SEGMENT } from './shapes.js';

type PlannedLine = z.infer<typeof LINE>;
type Tell = (path: readonly (string | number)[], allowed: string) => void;

/** What the lines of a plan cannot say together. */
export function checkPlan({ lines }: { readonly lines: readonly PlannedLine[] }, context: z.RefinementCtx): void {
  const tell: Tell = (path, message) => context.addIssue({ code: 'custom', message, path: ['lines', ...path] });
  refuseTwice(lines, tell);
  refuseTooMany(lines, tell);
  const first = firstSegments(lines);
  lines.forEach(({ line, segment, coupler }, index) => {
    const isFirst = first.get(line) === segment;
    const allowed = couplersOf(line, isFirst);
    if (coupler !== undefined && !allowed.includes(coupler)) tell([index, 'coupler'], couplerText(allowed, isFirst));
  });
}

/** The lowest number of a line's segments, by the line's address. */
export function firstSegments(lines: readonly Pick<PlannedLine, 'line' | 'segment'>[]): ReadonlyMap<string, number> {
  const first = new Map<string, number>();
  for (const { line, segment } of lines) first.set(line, Math.min(segment, first.get(line) ?? segment));
  return first;
}

/** A repeater joins a segment to the first of its line, any coupler that one to the line above; the backbone has none. */
function couplersOf(line: string, isFirst: boolean): readonly string[] {
  if (!isFirst) return ['repeater', 'none'];
  return line === '0.0' ? ['none'] : ['line', 'IP', 'none'];
}

function couplerText(allowed: readonly string[], isFirst: boolean): string {
  const where = isFirst ? 'the first segment of this line' : 'a further segment of a line';
  return `${allowed.join(' or ')} for ${where}`;
}

function refuseTwice(lines: readonly PlannedLine[], tell: Tell): void {
  const seen = new Set<string>();
  lines.forEach(({ line, segment }, index) => {
    const key = `${line} ${segment}`;
    if (seen.has(key)) tell([index, 'line'], 'one entry for each line, or several with a number each as segment');
    seen.add(key);
  });
}

function refuseTooMany(lines: readonly PlannedLine[], tell: Tell): void {
  const counts = lines.map(({ devices }) => sum(devices.map(({ count }) => count)));
  counts.forEach((count, index) => {
    if (count > MOST_ON_SEGMENT) tell([index, 'devices'], `at most ${MOST_ON_SEGMENT} devices together, not ${count}`);
  });
  const all = sum(counts);
  if (all > MOST_DEVICES) tell([], `at most ${MOST_DEVICES} devices on all lines together, not ${all}`);
}
