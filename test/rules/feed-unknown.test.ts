import { describe, expect, it } from 'vitest';
import { feedUnknown } from '../../src/rules/feed-unknown.js';
import { balanceAt, choke, consumer, consumers, type PlantSpec, supply } from '../support/plants.js';
import { oldForm, only, onMedium, said, UNPOWERED } from '../support/rules.js';

describe('feed-unknown', () => {
  it.each<[string, PlantSpec]>([
    ['a choke beside a supply', only([choke(), supply(640), consumer(1, 10)])],
    ['a choke beside a supply without a rating', only([choke(), supply(), consumer(1, 10)])],
    ['a choke and nothing to feed', only([choke()])],
    ['neither choke nor supply', only([consumer(1, 10)])],
  ])('passes %s', (_, plant) => {
    expect(said(feedUnknown, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it.each([
    ['the new form', only([choke(), ...consumers(2, 7.5)])],
    ['the old form', oldForm([choke(), ...consumers(2, 7.5)])],
  ])('finds a choke without a supply in %s', (_, plant) => {
    expect(said(feedUnknown, plant)).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: { segment: '1.1', chokes: ['Choke'], loadMa: 15, items: 2 },
          message: expect.stringMatching(/15 mA through Choke, and no supply stands on it/),
          remedy: expect.stringContaining('15 mA plus'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it('finds one device that declares nothing, and names every choke', () => {
    expect(said(feedUnknown, only([choke(), choke(), { address: 1 }])).found).toMatchObject([
      { restsOn: 'assumed', facts: { loadMa: 10, chokes: ['Choke', 'Choke'] } },
    ]);
  });

  it('finds segments whose supplies are joined with more than can be told apart', () => {
    const lines = Array.from({ length: 11 }, (_, at) => ({
      line: `1.${at + 1}`,
      segments: [[{ ...supply(640), name: `S${at}` }, consumer(1, 10)]],
    }));
    const segments = lines.map(({ line }, at) => ({
      segment: line,
      fedBy: at === 0 ? ['S0'] : [`S${at - 1}`, `S${at}`],
    }));
    const { found } = said(feedUnknown, { lines, sheet: { segments } });
    expect(found).toHaveLength(11);
    expect(found[0]?.message).toContain('more than 10 supplies in one group');
    expect(said(feedUnknown, { lines: lines.slice(1), sheet: { segments: segments.slice(2) } }).found).toEqual([]);
  });

  it('finds a segment whose stated supply is gone, whatever stands there', () => {
    const sheet = { archive: 'b'.repeat(64), segments: [{ segment: '1.1', fedBy: ['Supply 9'] }] };
    const plant = { ...only([supply(640), consumer(1, 10)]), sheet };
    expect(balanceAt('1.1', plant)).toMatchObject({ verdict: 'undecidable', isFeedUnknown: true });
    expect(said(feedUnknown, plant).found).toMatchObject([
      {
        facts: { cause: 'supply gone', loadMa: 10 },
        message:
          'The site sheet names a supply that is gone as what feeds line 1.1; what feeds its 10 mA now is not known.',
        remedy: expect.stringMatching(/^Name in the site sheet what feeds line 1\.1 now \(fedBy\)/),
      },
    ]);
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(feedUnknown, onMedium(medium, [choke(), consumer(1, 10)]))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
