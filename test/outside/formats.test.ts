import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import { formatCsvFindings } from '../../src/report/format/csv-findings.js';
import { formatCsvSegments } from '../../src/report/format/csv-segments.js';
import { formatCsvSiteCheck } from '../../src/report/format/csv-site-check.js';
import { formatCsvUnknowns } from '../../src/report/format/csv-unknowns.js';
import { formatJunit } from '../../src/report/format/junit.js';
import type { Report } from '../../src/report/report.js';
import { HOSTILE, hostileReport, reportOf } from '../support/formats.js';
import { needsPython, pythonFed } from '../support/python.js';

/** Formats of the report, read by the parsers of Python's own library. */

const REPORTS: readonly [string, () => Promise<Report>][] = [
  ['school', () => reportOf('school')],
  ['repeaters', () => reportOf('repeaters')],
  ['a hostile report', hostileReport],
];

const READ_CSV = `
import csv, io, json, sys
text = io.TextIOWrapper(sys.stdin.buffer, encoding='utf-8', newline='')
print(json.dumps(list(csv.reader(text, strict=True))))
`;

const TABLES = [
  ['segments', formatCsvSegments],
  ['findings', formatCsvFindings],
  ['unknowns', formatCsvUnknowns],
  ['site check', formatCsvSiteCheck],
] as const;

describe.each(REPORTS)('the tables of %s', (_name, make) => {
  it.for(TABLES)('%s are to Python’s csv what they are to csv-parse', async ([, format], context) => {
    needsPython(context);
    const text = encoded(format(await make()).replaceAll('\u0000', '')); // which older releases of Python refuse
    const found = JSON.parse(pythonFed(text, '-c', READ_CSV).toString()) as string[][];
    expect(found.length).toBeGreaterThan(0);
    expect(found).toEqual(parse(text, { record_delimiter: '\r\n' }));
  });
});

/** As it arrives in UTF-8, where half a pair has no place. */
function encoded(text: string): string {
  return Buffer.from(text).toString();
}

const READ_XML = `
import json, sys, xml.etree.ElementTree as tree
root = tree.fromstring(sys.stdin.buffer.read())
count = lambda kind: len(root.findall('./testsuite/testcase/' + kind))
failures = [[one.get('type'), one.get('message'), one.text] for one in root.iter('failure')]
print(json.dumps({'root': root.attrib, 'suites': [suite.get('name') for suite in root.findall('testsuite')],
  'counts': [len(root.findall('./testsuite/testcase')), count('failure'), count('error'), count('skipped')],
  'failures': failures}))
`;

interface Found {
  readonly root: Readonly<Record<string, string>>;
  readonly suites: readonly string[];
  readonly counts: readonly number[];
  readonly failures: readonly (readonly string[])[];
}

describe.each(REPORTS)('JUnit of %s', (_name, make) => {
  it('is well-formed to Python, with the counts that it tells and suites of different names', async (context) => {
    needsPython(context);
    const report = await make();
    const text = formatJunit(report, { archive: 'plant & "more"' });
    const { root, suites, counts } = JSON.parse(pythonFed(text, '-c', READ_XML).toString()) as Found;
    const { name, tests, failures, errors, skipped } = root;
    expect(name).toBe('plant & "more"');
    expect([tests, failures, errors, skipped].map(Number)).toEqual(counts);
    expect(counts[0]).toBe(report.coverage.length);
    expect(new Set(suites).size).toBe(report.segments.length + 1);
  });
});

it('a hostile sentence reads back as it is, but for what XML cannot hold', async (context) => {
  needsPython(context);
  const text = formatJunit(await hostileReport(), { archive: 'plant' });
  const { failures } = JSON.parse(pythonFed(text, '-c', READ_XML).toString()) as Found;
  // XML 1.0, section 2.2
  const forbidden = ['\u0000', '\u0008', '\u001B', '\uFFFE', '\uD800'];
  const held = [...HOSTILE].map((one) => (forbidden.includes(one) ? '\uFFFD' : one)).join('');
  expect(failures.length).toBeGreaterThan(0);
  const one = failures.find(([, message]) => message === held);
  expect(one?.[2]).toBe(`${one?.[0]}: ${held}\n${held}`);
});
