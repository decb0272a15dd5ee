import { describe, expect, it } from 'vitest';
import { SEVERITIES } from '../../src/policy/policy.js';
import { DE } from '../../src/words/de/words.js';
import { EN } from '../../src/words/en/words.js';

const both = (told: (words: typeof EN) => string) => [told(EN), told(DE)];

function currents(declared: number, overridden: number, assumed: number): string[] {
  return both(({ page }) => page.assumptions.currents({ declared, overridden, assumed, eachMa: 10 }));
}

describe('the page', () => {
  it.each([
    [0, 'errors warnings notes', 'Fehler Warnungen Hinweise'],
    [1, 'error warning note', 'Fehler Warnung Hinweis'],
    [2, 'errors warnings notes', 'Fehler Warnungen Hinweise'],
  ])('calls %i findings by their number', (findings, english, german) => {
    const told = both(({ page }) =>
      SEVERITIES.map((severity) => page.summary.severity({ severity, findings })).join(' '),
    );
    expect(told).toEqual([english, german]);
  });

  it('says one current as one, several as several, and nothing of what there is none of', () => {
    expect(currents(1, 1, 1)).toEqual([
      '1 current is declared, 1 is overridden and 1 is assumed at 10 mA.',
      '1 Strom ist angegeben, 1 ist überschrieben und 1 ist mit 10 mA angenommen.',
    ]);
    expect(currents(3, 0, 2)).toEqual([
      '3 currents are declared and 2 are assumed at 10 mA.',
      '3 Ströme sind angegeben und 2 sind mit 10 mA angenommen.',
    ]);
    expect(currents(0, 0, 1)).toEqual(['1 current is assumed at 10 mA.', '1 Strom ist mit 10 mA angenommen.']);
    expect(currents(0, 0, 0)).toEqual(['Nothing draws a current.', 'Nichts entnimmt einen Strom.']);
  });

  it('calls the fingerprint in German what the advice on waivers calls it', () => {
    expect(DE.rules['waiver-unused'].remedy).toContain(DE.page.findings.fingerprint);
  });

  it('says of a waiver that a finding comes back above a figure, not at it', () => {
    const waiver = { reason: 'r', author: 'a', expires: '2026-06-01', accepted: '90 %', raiseAbove: '95 %' };
    expect(both(({ report }) => report.findings.waiver(waiver))).toEqual([
      expect.stringContaining('again above 95 %'),
      expect.stringContaining('wieder über 95 %'),
    ]);
  });

  it('calls what a meter is expected to show expected, not allowed', () => {
    expect(both(({ page }) => page.check.between)).toEqual(['Expected between', 'Erwarteter Bereich']);
  });

  it('speaks of the voltage of a supply where that is meant, as the least supply is the one of lowest rating', () => {
    for (const { page, report } of [EN, DE]) {
      const { lowestTypical, lowestLeast, typicalBand, leastBand } = page.site;
      const headings = [page.columns.typical, page.columns.least, ...report.site.columns.slice(3, 5)];
      for (const text of [lowestTypical, lowestLeast, typicalBand, leastBand, ...headings]) {
        expect(text).toMatch(/voltage$|spannung$|Spannung$/);
      }
    }
  });

  it('tells the supplies of the schedule in the words of its totals', () => {
    for (const { names, schedule } of [EN, DE]) {
      const { existing, new: added, replacement, remove } = names.scheduleStates;
      const totals = Object.values(schedule.becomes).map((text) => text.toLowerCase());
      expect([added, existing, remove].map((text) => text.toLowerCase())).toEqual(totals);
      expect(replacement.startsWith(added)).toBe(true);
    }
  });

  it('calls a current that the policy sets the same in the legend as in the counts', () => {
    for (const { page } of [EN, DE]) expect(page.plant.parts.overridden).toContain(page.names.origins.overridden);
  });
});
