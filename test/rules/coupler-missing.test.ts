import { describe, expect, it } from 'vitest';
import { couplerMissing } from '../../src/rules/coupler-missing.js';
import { runRules } from '../../src/rules/run.js';
import { countLooks } from '../support/looks.js';
import { combined, consumer, contextOf, coupler, type DeviceSpec, type LineSpec, supply } from '../support/plants.js';
import { said } from '../support/rules.js';

const line = (address: string, ...devices: DeviceSpec[]): LineSpec => ({ line: address, segments: [devices] });
const used = (address: string, ...devices: DeviceSpec[]) => line(address, consumer(1, 10), ...devices);
const about = (...lines: LineSpec[]) => said(couplerMissing, { lines }).found.map((finding) => finding.about);

describe('coupler-missing', () => {
  it.each<[string, LineSpec[]]>([
    ['a single line', [used('1.1')]],
    ['the only line with devices', [used('1.1'), line('1.0'), line('1.2', supply(640))]],
    ['a coupler', [used('1.1', coupler(5)), used('1.2', coupler(5))]],
    ['an IP-enabled coupler', [used('1.1', coupler(5, 0, true)), used('1.2', coupler(5, 0, true))]],
    ['a combined supply and coupler', [used('1.1', combined(640)), used('1.2', combined(640))]],
    [
      'an unknown product at address 0',
      [used('1.1', { address: 0, unknown: true }), used('1.2', { address: 0, noProduct: true })],
    ],
    ['a main line with lines of its own area only', [used('1.0'), used('1.1', coupler(5))]],
    ['the backbone line, which nothing is above', [used('0.0'), used('1.0', coupler(5))]],
    ['an IP line, which the network joins', [{ ...used('1.0'), medium: 'MT-5' }, used('2.1', coupler(5))]],
  ])('passes %s', (_, lines) => {
    expect(about(...lines)).toEqual([]);
  });

  it.each<[string, LineSpec[], string[]]>([
    ['a line next to another', [used('1.1', coupler(5)), used('1.2')], ['1.2']],
    ['each of two lines', [used('1.1'), used('1.2')], ['1.1', '1.2']],
    ['a line next to its main line', [used('1.0'), used('1.1')], ['1.1']],
    ['a line whose main line only carries couplers', [line('1.0'), used('1.1', coupler(5)), used('1.2')], ['1.2']],
    ['a main line next to another area', [used('1.0'), used('2.0', coupler(5))], ['1.0']],
    [
      'a main line that carries one coupler and nothing else',
      [line('1.0'), used('1.1', coupler(5)), used('0.0')],
      ['1.0'],
    ],
    ['a main line next to the backbone', [used('0.0'), used('1.0')], ['1.0']],
    ['a line of the backbone area', [used('0.0'), used('0.1')], ['0.1']],
    ['a radio line', [{ ...used('1.1'), medium: 'MT-2' }, used('1.2', coupler(5))], ['1.1']],
    ['a device at address 0 that is no coupler', [used('1.1', consumer(0, 10)), used('1.2', coupler(5))], ['1.1']],
    ['a coupler that is not at address 0', [used('1.1', coupler(5, 2)), used('1.2', coupler(5))], ['1.1']],
  ])('finds %s', (_, lines, expected) => {
    expect(about(...lines)).toEqual(expected.map((address) => `line ${address}`));
  });

  it('says where to enter it, and names the first segment of the line', () => {
    const plant = {
      lines: [{ line: '1.1', segments: [[consumer(1, 10), supply(640)], [consumer(2, 10)]] }, used('1.2', coupler(5))],
    };
    expect(said(couplerMissing, plant)).toMatchObject({
      found: [
        {
          about: 'line 1.1',
          severity: 'warning',
          restsOn: 'declared',
          segments: ['1.1 segment 1'],
          facts: { line: '1.1', participants: 2 },
          message: expect.stringContaining('no coupler at 1.1.0'),
          remedy: expect.stringMatching(/charged on line 1\.1; line 1\.0 above it is not in the export\.$/),
        },
      ],
      coverage: { '1.1 segment 1': 'found', '1.1 segment 2': 'passed', '1.2': 'passed', '*': 'passed' },
    });
  });

  it.each([
    ['MT-0', 'charged on line 2.0 and on line 0.0 above it'],
    ['MT-5', 'charged on line 2.0 only: line 0.0 above it is IP, so it has to be an IP coupler'],
    ['MT-1', 'charged on line 2.0 only, as line 0.0 above it carries no power'],
  ])('with %s above says what the coupler is charged on', (medium, expected) => {
    const backbone = { ...line('0.0'), medium };
    const { found } = said(couplerMissing, { lines: [backbone, used('2.0'), used('1.0', coupler(5))] });
    expect(found).toMatchObject([{ about: 'line 2.0', remedy: expect.stringContaining(expected) }]);
  });

  it.each([
    ['main lines of one area', '1.0', 0],
    ['lines whose main line the export does not hold', '1.1', 200],
  ])('looks at each line a few times only, among many %s', (_, address, findings) => {
    const context = contextOf({ lines: Array.from({ length: 200 }, () => used(address)) });
    const lines = context.installation.lines.map(countLooks);
    const installation = { ...context.installation, lines: lines.map(({ counted }) => counted) };
    expect(runRules([couplerMissing], { ...context, installation }).findings).toHaveLength(findings);
    expect(Math.max(...lines.map(({ count }) => count()))).toBeLessThan(50);
  });

  it('takes the first of several lines of one address for the line above', () => {
    const lines = [{ ...line('1.0'), medium: 'MT-5' }, line('1.0'), used('1.1'), used('1.2', coupler(5))];
    expect(said(couplerMissing, { lines }).found).toMatchObject([{ facts: { above: 'IP' } }]);
  });
});
