import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { PROBLEM_MEDIA_TYPE } from '../../src/http/problems.js';
import { EN } from '../../src/words/en/words.js';
import type { Case } from './cases.js';
import type { Answer } from './send.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

/** What nobody outside has to see: stack lines, errors of the code by their class, places of files, modules. */
const INTERNALS = /\n\s+at |\w+Error\b|node:|node_modules|\/dist\/|\/src\/|\.[jt]s\b|0x[0-9a-f]{8}/;

export function checkAnswers({ statuses, code, part, look, sees }: Case, answers: readonly Answer[]): void {
  const bodies = answers.map(({ body }) => body.slice(0, 500)).join('\n');
  expect(
    answers.map(({ status }) => status),
    bodies,
  ).toEqual(statuses);
  const last = answers.at(-1);
  if (last === undefined) throw new Error('there is no answer');
  if (code !== undefined) checkProblem(last, code, part);
  if (look !== undefined) expect(look(JSON.parse(last.body))).toEqual(sees);
}

/** A problem document of this code, whole, and with nothing in it that is ours alone. */
function checkProblem({ status, headers, body }: Answer, code: NonNullable<Case['code']>, part?: string): void {
  expect(headers.get('content-type')).toBe(`${PROBLEM_MEDIA_TYPE}; charset=utf-8`);
  expect(headers.get('request-id')).toMatch(/^[0-9a-f-]{36}$/);
  const { detail, line, ...problem } = JSON.parse(body);
  const named = part === undefined ? {} : { part };
  expect(problem, body).toEqual({ type: `urn:linebudget:problem:${code}`, ...EN.problems[code], status, ...named });
  expect(detail).toMatch(/\S/);
  expect(body.length).toBeLessThan(10_000);
  expect(body).not.toMatch(INTERNALS);
  expect(body).not.toContain(ROOT);
  if (line !== undefined) expect(line).toBeGreaterThan(0);
}
