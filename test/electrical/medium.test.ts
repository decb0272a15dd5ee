import { describe, expect, it } from 'vitest';
import { mediumOf } from '../../src/plant/medium.js';
import { balanceAt, consumer, type LineSpec } from '../support/plants.js';

const NAMES = new Map([['MT-9', 'Light']]);

/** Design, the balance, 11. */
describe('the medium of a segment', () => {
  it.each([
    ['MT-0', 'twisted pair', true],
    ['MT-1', 'powerline', false],
    ['MT-2', 'radio', false],
    ['MT-5', 'IP', false],
  ])('%s is %s; needs power: %s', (id, name, needsPower) => {
    expect(mediumOf(id, undefined, NAMES)).toEqual({ id, name, needsPower, isKnown: true, from: 'segment' });
  });

  it.each([
    ['its own before the line’s', 'MT-2', 'MT-0', 'MT-2', 'segment'],
    ['the line’s where it says nothing', undefined, 'MT-2', 'MT-2', 'line'],
    ['twisted pair where nobody says anything', undefined, undefined, 'MT-0', 'nobody'],
  ])('is %s', (_, segment, line, id, from) => {
    expect(mediumOf(segment, line, NAMES)).toMatchObject({ id, from });
  });

  it('that is not known is judged as twisted pair, and said so', () => {
    expect(mediumOf('MT-9', undefined, NAMES)).toMatchObject({ name: 'Light', needsPower: true, isKnown: false });
    expect(mediumOf('MT-8', undefined, NAMES)).toMatchObject({ name: 'MT-8', needsPower: true, isKnown: false });
  });

  it.each<[string, LineSpec, string, string]>([
    ['of the segment', { line: '1.1', segments: [{ number: 1, medium: 'MT-2', devices: [] }] }, 'MT-2', 'segment'],
    [
      'of the line',
      { line: '1.1', medium: 'MT-2', segments: [{ number: 1, medium: null, devices: [] }] },
      'MT-2',
      'line',
    ],
    ['of nobody', { line: '1.1', segments: [{ number: 1, medium: null, devices: [] }] }, 'MT-0', 'nobody'],
    ['of an old-form line', { line: '1.1', medium: 'MT-5', devices: [consumer(1, 10)] }, 'MT-5', 'line'],
    ['of an old-form line that says nothing', { line: '1.1', devices: [consumer(1, 10)] }, 'MT-0', 'nobody'],
  ])('in a plant is that %s', (_, line, id, from) => {
    expect(balanceAt('1.1', { lines: [line] }).segment.medium).toMatchObject({ id, from });
  });
});
