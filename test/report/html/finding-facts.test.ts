import { describe, expect, it } from 'vitest';
import { audit } from '../../../src/audit.js';
import { PageFigures } from '../../../src/report/format/html/figures.js';
import { formatHtml } from '../../../src/report/format/html.js';
import { DE } from '../../../src/words/de/words.js';
import { EN } from '../../../src/words/en/words.js';
import { fixtureArchive } from '../../support/archives.js';
import { attribute, CONTEXT, parsed, textOf } from './pages.js';

describe('a finding on the page', () => {
  it('says what origin its currents have where its figure rests on currents, and nothing where it counts', async () => {
    const report = await audit(await fixtureArchive('school'));
    const { elements } = parsed(await formatHtml(report, CONTEXT));
    const articles = elements.filter((one) => attribute(one, 'class')?.startsWith('finding ')).map(textOf);
    const telling = articles.filter((text) => text.includes(EN.page.findings.restsOn)).length;
    const resting = report.findings.filter(({ measure }) => ['mA', 'V', 'h', 'Ah'].includes(measure.unit)).length;
    expect(telling).toBe(resting);
    expect([telling > 0, telling < articles.length]).toEqual([true, true]);
  });
});

describe('figures on the page', () => {
  it('say in words that a length is not known, and have a true minus sign', () => {
    expect([EN, DE].map((words) => new PageFigures(words).between(null, null, 'm'))).toEqual([
      'not known',
      'nicht bekannt',
    ]);
    expect(new PageFigures(DE).volts(-1.5)).toBe('−1,5 V');
  });
});
