import { describe, expect, it } from 'vitest';
import {
  ARCHIVE_LIMIT_NAMES,
  checkLimits,
  DEFAULT_LIMITS,
  LIMIT_NAMES,
  LIMITS,
  LimitError,
  limitsWith,
} from '../src/limits.js';

describe('limits set otherwise', () => {
  it('are the usual ones but for what is set', () => {
    expect(limitsWith({})).toEqual(DEFAULT_LIMITS);
    expect(limitsWith({ xmlDepth: 7, stopSeconds: 9 })).toEqual({ ...DEFAULT_LIMITS, xmlDepth: 7, stopSeconds: 9 });
  });

  it.each(LIMIT_NAMES)('%s is taken from its least to its greatest value, and not beyond', (name) => {
    const { least, most, value, unit } = LIMITS[name];
    expect(least).toBeGreaterThanOrEqual(0);
    expect([least <= value, value <= most]).toEqual([true, true]);
    for (const good of [least, most]) expect(limitsWith({ [name]: good })[name]).toBe(good);
    for (const bad of [least - 1, most + 1, least + 0.5, Number.NaN, Number.POSITIVE_INFINITY]) {
      const said = `the limit ${name} is a whole number from ${least} to ${most} (${unit}), not ${bad}`;
      expect(() => limitsWith({ [name]: bad })).toThrow(new LimitError(said));
    }
  });

  it.each(['xmldepth', 'toString', '__proto__', ''])('%j is no limit, and those that there are are named', (name) => {
    const said = `there is no limit "${name}" here; there are ${LIMIT_NAMES.join(', ')}`;
    expect(() => limitsWith(Object.fromEntries([[name, 1]]))).toThrow(new LimitError(said));
  });

  it('are those of an archive where only these may be set', () => {
    expect(() => checkLimits({ partBytes: 5 }, ARCHIVE_LIMIT_NAMES)).not.toThrow();
    const said = `there is no limit "auditSeconds" here; there are ${ARCHIVE_LIMIT_NAMES.join(', ')}`;
    expect(() => checkLimits({ auditSeconds: 5 }, ARCHIVE_LIMIT_NAMES)).toThrow(new LimitError(said));
  });
});
