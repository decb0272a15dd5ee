import { describe, expect, it } from 'vitest';
import { audit } from '../../src/audit.js';
import { compareReports } from '../../src/report/compare/compare.js';
import { comparisonSentence, formatComparisonText } from '../../src/report/compare/text.js';
import { fixtureArchive } from '../support/archives.js';
import { schoolReport, withLargerSupply, withoutPushButton } from '../support/edited.js';

const school = await schoolReport();
const mended = await schoolReport([withoutPushButton, withLargerSupply]);

describe('the comparison as text', () => {
  it('begins with a sentence and what differs', () => {
    const text = formatComparisonText(compareReports(school, mended));
    expect(text.split('\n').slice(2, 5)).toEqual([
      `0 new findings, 0 worsened, 1 improved, 2 fixed, ${school.findings.length - 3} unchanged.`,
      '',
      'What differs: the archive.',
    ]);
    expect(text).toContain('Change: load 141.5 mA → 136.5 mA');
    expect(text).toContain('- Line 1.4: - 1.4.10 Push button 1.05 (Push button, 2 rockers, 5 mA)');
    expect(text).toContain('Supply 1.2 (Bus power supply 320 mA → Bus power supply 1280 mA, no load)');
    expect(text).toMatch(
      /^1\.2 +362\.7 mA +320 mA → 1280 mA +113\.4 % → 28\.4 % +-106\.7 mA → 661\.3 mA +insufficient → sufficient$/m,
    );
  });

  it('has the remedy of what is new, and none of what is fixed', () => {
    const remedy = 'Do:';
    expect(formatComparisonText(compareReports(mended, school))).toContain(remedy);
    expect(formatComparisonText(compareReports(school, mended))).not.toContain(remedy);
  });

  it('says that an audit did not check everything', () => {
    const { complete: _, ...summary } = school.summary;
    const failed = { ...school, summary: { ...summary, complete: false } };
    const nothing = { ...school, summary: { ...school.summary, checks: 0 } };
    expect(comparisonSentence(compareReports(school, school))).not.toContain('INCOMPLETE');
    for (const report of [failed, nothing]) {
      expect(comparisonSentence(compareReports(report, school))).toContain('INCOMPLETE');
      expect(comparisonSentence(compareReports(school, report))).toContain('INCOMPLETE');
    }
  });

  it('says how many of a long list it does not show', async () => {
    const house = await audit(await fixtureArchive('house'));
    const text = formatComparisonText(compareReports({ ...house, findings: [] }, school));
    expect(text).toContain(`20 shown of ${school.findings.length}; the JSON comparison has all of them`);
  });

  it('holds nothing that moves the cursor or turns the direction', () => {
    const hostile = '\u001b[2J\u202eevil\r\n';
    const segments = school.segments.map((one) => ({
      ...one,
      label: one.label + hostile,
      devices: one.devices.map((device) => ({
        ...device,
        name: device.name + hostile,
        productId: hostile,
        product: hostile,
      })),
    }));
    const findings = school.findings.map((one) => ({ ...one, message: hostile, remedy: hostile, rule: hostile }));
    const tool = { name: hostile, version: hostile };
    const report = { ...school, segments, findings, tool, archive: mended.archive };
    const text =
      formatComparisonText(compareReports(school, report)) + formatComparisonText(compareReports(report, school));
    expect(text.replaceAll('\n', '')).not.toMatch(/[\p{C}\p{Zl}\p{Zp}]/u);
  });
});
