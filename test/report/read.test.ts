import { describe, expect, it } from 'vitest';
import { builtIn } from '../../src/policy/effective.js';
import { readReport } from '../../src/report/read.js';
import { schoolReport } from '../support/edited.js';
import { refusalOf } from '../support/refusal.js';

const school = await schoolReport();

describe('reading a report back', () => {
  it('gives what was written', async () => {
    for (const report of [school, await schoolReport([], builtIn('conservative'))]) {
      expect(readReport(`\n ${JSON.stringify(report, null, 2)}`, 'old.json')).toEqual(report);
    }
  });

  const text = JSON.stringify(school);
  const nested = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);
  it.each([
    ['nothing', '', 'it is not JSON'],
    ['an archive', 'PK\u0003\u0004', 'it is not JSON'],
    ['a report that is cut off', text.slice(0, -1), 'it is not JSON'],
    ['another document', '{"name": "x"}', 'no report of this tool'],
    ['null', 'null', 'no report of this tool'],
    ['a list', `[${text}]`, 'no report of this tool'],
    [
      'a later version',
      text.replace('"reportVersion":1', '"reportVersion":2'),
      'a report of version 2; version 1 is read',
    ],
    ['a version in words', text.replace('"reportVersion":1', '"reportVersion":"1"'), 'no report of this tool'],
    ['a figure that is a text', text.replace('"checks":', '"checks":"x","was":'), 'should be at summary.checks'],
    ['no findings', JSON.stringify({ ...school, findings: undefined }), 'should be at findings'],
    [
      'more faults than are told of',
      JSON.stringify({ ...school, findings: Array.from({ length: 9 }, () => 0) }),
      'at findings[0], findings[1], findings[2], findings[3], findings[4] and 4 more places',
    ],
    ['a hash that is none', text.replaceAll(school.archive.sha256, 'abc'), 'should be at archive.sha256'],
    ['deep nesting', nested(200_000), 'no report of this tool'],
    ['deep nesting inside', text.replace('"facts":{', `"facts":{"deep":${nested(200_000)},`), 'nested too deeply'],
  ])('refuses %s', async (_, source, detail) => {
    const refusal = await refusalOf(() => readReport(source, 'old.json'));
    expect(refusal).toMatchObject({ code: 'invalid-baseline', place: { part: 'old.json' } });
    expect(refusal.message).toContain(detail);
  });

  it('takes nothing of a report but what belongs to one', () => {
    const hostile = text.replace('{"reportVersion"', '{"__proto__":{"polluted":1},"more":2,"reportVersion"');
    expect(readReport(hostile, 'old.json')).toEqual(school);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});
