import { describe, expect, it } from 'vitest';
import { CABLES, cableNamed, ohmPerKmAt } from '../../src/site/cables.js';

/** Resistance of copper at 20 °C as the handbooks have it (IEC 60028), Ω·mm²/m. */
const COPPER = 1 / 58;

describe('the table of cables', () => {
  it.each([
    ['0.8 mm pair', 73.2, 'VDE 0816'],
    ['0.6 mm pair', 130, 'VDE 0815'],
    ['0.5 mm² pair', 72, 'IEC 60228'],
    ['0.75 mm² pair', 49, 'IEC 60228'],
    ['1 mm² pair', 36.2, 'IEC 60228'],
    ['1.5 mm² pair', 24.2, 'IEC 60228'],
    ['2.5 mm2 pair', 14.82, 'IEC 60228'],
  ])('has %s with %d Ω/km of loop, from %s', (name, ohmPerKm, source) => {
    expect(cableNamed(name)?.loopOhmPerKm).toBe(ohmPerKm);
    expect(cableNamed(name)?.source).toContain(source);
  });

  it('has no other, and none twice', () => {
    expect(new Set(CABLES.map(({ name }) => name)).size).toBe(7);
    expect(cableNamed('0.8 mm')).toBeUndefined();
  });

  it('is never below what the copper alone has', () => {
    const loop = (mm2: number) => (2 * 1000 * COPPER) / mm2;
    const byDiameter = (mm: number) => loop((Math.PI / 4) * mm ** 2);
    expect(byDiameter(0.8)).toBeCloseTo(68.6, 1);
    expect(byDiameter(0.6)).toBeCloseTo(122, 0);
    for (const { name, loopOhmPerKm } of CABLES) {
      const size = Number.parseFloat(name);
      const copper = name.includes('mm²') ? loop(size) : byDiameter(size);
      expect(loopOhmPerKm / copper).toBeGreaterThan(1);
      expect(loopOhmPerKm / copper).toBeLessThan(1.08); // the tolerance of the conductor and the twist of the pair
    }
  });

  it('has for 0.8 mm what half a square millimetre has, nearly', () => {
    const [byDiameter, byArea] = [cableNamed('0.8 mm pair'), cableNamed('0.5 mm² pair')];
    expect((byDiameter?.loopOhmPerKm ?? 0) / (byArea?.loopOhmPerKm ?? 0)).toBeCloseTo(1, 1);
  });
});

describe('the resistance of a loop', () => {
  it('is that of the table at 20 °C', () => {
    for (const { loopOhmPerKm } of CABLES) expect(ohmPerKmAt(loopOhmPerKm, 20, 1)).toBe(loopOhmPerKm);
  });

  // IEC 60028: 0.00393 per kelvin, from 20 °C on
  it.each([
    [120, 139.3],
    [30, 103.93],
    [0, 92.14],
    [-234.45, 0], // about where the law has copper without resistance
  ])('of 100 Ω/km at %d °C is %d Ω/km', (temperature, ohmPerKm) => {
    expect(ohmPerKmAt(100, temperature, 1)).toBeCloseTo(ohmPerKm, 1);
  });

  it('is half with a second pair', () => {
    expect(ohmPerKmAt(73.2, 45, 2)).toBe(ohmPerKmAt(73.2, 45, 1) / 2);
  });
});
