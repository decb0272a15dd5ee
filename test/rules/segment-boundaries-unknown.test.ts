import { describe, expect, it } from 'vitest';
import { segmentBoundariesUnknown } from '../../src/rules/segment-boundaries-unknown.js';
import { check, combined, consumer, coupler, type DeviceSpec, type PlantSpec, supply } from '../support/plants.js';
import { oldForm, only, onMedium, repeater, said, UNPOWERED } from '../support/rules.js';

const BRIDGED: readonly DeviceSpec[] = [supply(640), consumer(1, 20), repeater(64, 5), repeater(128, 5)];

describe('segment-boundaries-unknown', () => {
  it.each<[string, PlantSpec]>([
    ['an old-form line without a repeater', oldForm([supply(640), consumer(1, 20)])],
    ['an old-form line whose coupler stands at address 0', oldForm([supply(640), coupler(5), consumer(1, 20)])],
    ['an IP router in an old-form line, which cuts nothing', oldForm([supply(640), coupler(5, 64, true)])],
    ['repeaters in the new form, which states the bounds', only(BRIDGED)],
    [
      'devices beside the only segment of a line',
      { lines: [{ line: '1.1', segments: [[supply(640)]], devices: [consumer(1, 20)] }] },
    ],
    [
      'a repeater that draws nothing, and nothing else to feed',
      oldForm([{ is: { isCoupler: true, hasIndividualAddress: false } }]),
    ],
  ])('passes %s', (_, plant) => {
    expect(said(segmentBoundariesUnknown, plant)).toEqual({ found: [], coverage: { '1.1': 'passed' } });
  });

  it('finds an old-form line with repeaters, and names them', () => {
    expect(said(segmentBoundariesUnknown, oldForm(BRIDGED))).toMatchObject({
      found: [
        {
          about: 'segment 1.1',
          severity: 'error',
          restsOn: 'declared',
          segments: ['1.1'],
          facts: {
            segment: '1.1',
            repeaters: ['1.1.64 Repeater', '1.1.128 Repeater'],
            supplies: 1,
            items: 3,
            loadMa: 30,
          },
          message: expect.stringMatching(
            /2 repeaters \(1\.1\.64 Repeater and 1\.1\.128 Repeater\).*3 participants and 1 supply/,
          ),
          remedy: expect.stringContaining('segments'),
        },
      ],
      coverage: { '1.1': 'found' },
    });
  });

  it.each<[string, DeviceSpec, string]>([
    ['one repeater', repeater(64), '1.1.64 Repeater'],
    ['a combined supply and coupler away from address 0', combined(320, 64), '1.1.64 Combined'],
  ])('finds %s', (_, device, label) => {
    expect(said(segmentBoundariesUnknown, oldForm([consumer(1, 20), device])).found).toMatchObject([
      { facts: { repeaters: [label] } },
    ]);
  });

  it('rests on the rule of thumb where a current is assumed', () => {
    expect(said(segmentBoundariesUnknown, oldForm([repeater(64), { address: 1 }])).found).toMatchObject([
      { restsOn: 'assumed' },
    ]);
  });

  it('finds devices on a line itself beside several segments', () => {
    const plant: PlantSpec = {
      lines: [{ line: '1.1', segments: [[supply(640)], [supply(640)]], devices: [consumer(1, 20), consumer(2, 20)] }],
    };
    expect(said(segmentBoundariesUnknown, plant).found).toMatchObject([
      { facts: { repeaters: [], items: 2 }, message: expect.stringMatching(/2 participants .* beside its segments/) },
    ]);
  });

  it('names what stands beside the segments, of many the first six', () => {
    const plant = (...devices: DeviceSpec[]): PlantSpec => ({
      lines: [{ line: '1.1', segments: [[supply(640), consumer(1, 20)], [supply(640)]], devices }],
    });
    expect(check(segmentBoundariesUnknown, plant(supply(640))).findings).toMatchObject([
      {
        measure: { quantity: 'devices beside the segments', value: 1, limit: 0 },
        facts: { stray: ['Supply'] },
        message:
          'On line 1.1 itself, beside its segments, stands Supply; what of that is on line 1.1 segment 1 is not known, so neither is its balance.',
      },
    ]);
    const many = Array.from({ length: 7 }, (_, at) => consumer(at + 11, 5, { name: 'D' }));
    expect(said(segmentBoundariesUnknown, plant(...many)).found.at(-1)?.message).toContain(
      '1.1.15 D, 1.1.16 D and 1 more; which segment',
    );
  });

  it.each(UNPOWERED)('skips the medium %s', (medium, missing) => {
    expect(said(segmentBoundariesUnknown, onMedium(medium, BRIDGED))).toEqual({
      found: [],
      coverage: { '1.1': `skipped: ${missing}` },
    });
  });
});
