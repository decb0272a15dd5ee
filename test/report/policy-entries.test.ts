import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { readGiven } from '../../src/given.js';
import { formatText } from '../../src/report/format/text.js';
import { basisRows } from '../../src/report/format/xlsx-schedule-basis.js';
import type { Report } from '../../src/report/report.js';
import { FIXTURES, fixtureArchive } from '../support/archives.js';
import { captioned, type Element, inside, readPage, rowsOf, textOf } from './html/pages.js';

/** What a file has changed of a policy is said wherever the policy is, and its lists are told entry by entry. */

const LIST = 'orderNumber,currentMa\nQH-PC1,7.5\n';

async function reportWith(policyText: string | null, products: string | null = null): Promise<Report> {
  const options = await readGiven({
    ...(policyText === null ? {} : { policy: { name: 'policy.yaml', text: policyText } }),
    ...(products === null ? {} : { products: { name: 'products.csv', text: products } }),
  });
  return audit(await fixtureArchive('school'), options);
}

const heading = (elements: readonly Element[]) =>
  elements
    .filter(({ tagName }) => tagName === 'h3')
    .map(textOf)
    .find((text) => text.startsWith('Policy used'));

const policyCell = (report: Report) =>
  basisRows(report, { archive: 'school' }).find(({ cells }) => cells[0] === 'Policy')?.cells[2];

describe('a policy', () => {
  it.each([
    [null, null, [], 'Policy used: common-practice'],
    ['targetLoad: 0.75', null, ['targetLoad'], 'Policy used: common-practice, changed in 1 value'],
    [null, LIST, ['products'], 'Policy used: common-practice, changed in 1 value'],
    [
      'extends: conservative\ntargetLoad: 0.6',
      LIST,
      ['targetLoad', 'products'],
      'Policy used: conservative, changed in 2 values',
    ],
  ])('of %j and the products %j is said to be changed in %j', async (policy, products, keys, title) => {
    const report = await reportWith(policy, products);
    expect(heading(await readPage(report))).toBe(title);
    const changes = keys.length === 0 ? '' : `, changed in ${keys.join(', ')}`;
    expect(formatText(report)).toContain(`Policy: ${report.policy.extends}${changes}; target`);
    expect(policyCell(report)).toBe(`${report.policy.extends}${changes.replace('targetLoad, p', 'targetLoad and p')}`);
  });

  it('has a line for each entry of a list or a mapping, in which texts are texts', async () => {
    const report = await reportWith(
      readFileSync(join(FIXTURES, 'example-policy.yaml'), 'utf8').replace('label on site', '<b>label</b>'),
    );
    const table = captioned(await readPage(report), 'Values of the policy') as Element;
    const entries = inside(table)
      .filter(({ tagName }) => tagName === 'li')
      .map(textOf);
    expect(entries).toEqual([
      'ratingMa 320, kinds plain',
      'ratingMa 640, kinds plain/reporting',
      'line 1.*, devices 2, reserveMa 0',
      'line 1.3, devices 3, reserveMa 10',
      'low-headroom error',
      'device-unplaced off',
      'orderNumber QH-PC1, currentMa 7.5, note data sheet 2026-03',
      'orderNumber BW-PSX, ratingMa 320, note <b>label</b>, 2026-05-12',
      'orderNumber QH-PC*, currentMa 9, note maker by telephone, 2026-05-13',
    ]);
  });

  it('without entries has none', async () => {
    const rows = rowsOf(captioned(await readPage(await reportWith(null)), 'Values of the policy') as Element);
    expect(rows.filter(([key]) => /^(growth|severities|products)$/.test(key ?? '')).map(([, value]) => value)).toEqual([
      'none',
      'none',
      'none',
    ]);
  });
});
