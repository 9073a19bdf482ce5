import { describe, expect, it } from 'vitest';
import { bulkDensitiesGpml } from '../../../api/calc/smelting/bulk-density.ts';
import { chargeVolume } from '../../../api/calc/smelting/volume.ts';

const concentrate = { massG: 100, minerals: [{ mineral: 'pyrite' as const, massFrac: 1 }] };
const reagents = [
  { reagent: 'soda ash' as const, massG: 75 },
  { reagent: 'borax' as const, massG: 85 },
];
/** By hand: 100/5.02/0.5 + 75/0.75 + 85/0.85. */
const bulkMl = 39.84 + 100 + 100;

describe('charge volume', () => {
  it('adds up the loose volumes', () => {
    const volume = chargeVolume({ concentrate, reagents, crucibleVolumeMl: 500 });
    expect(volume.bulkVolumeMl.value).toBeCloseTo(bulkMl, 2);
    expect(volume.fillFrac).toBeCloseTo(bulkMl / 500, 4);
    expect(volume.smallestCrucibleMl).toBeCloseTo(bulkMl * 1.5, 1);
    expect(volume.settledVolumeMl).toBeCloseTo(bulkMl / 3, 2);
    expect(volume.bulkVolumeMl.low).toBeLessThan(volume.bulkVolumeMl.value);
    expect(volume.bulkVolumeMl.high).toBeGreaterThan(volume.bulkVolumeMl.value);
  });

  // Common practice: at most two thirds, never above three quarters.
  it.each([
    [319, 'crucible-over-filled', 'blocker'],
    [321, 'crucible-rather-full', 'warning'],
    [359, 'crucible-rather-full', 'warning'],
    [361, 'crucible-may-be-over-filled', 'note'],
  ])('in a crucible of %i mL finds %s', (crucibleVolumeMl, code, level) => {
    expect(chargeVolume({ concentrate, reagents, crucibleVolumeMl }).findings).toEqual([
      expect.objectContaining({ code, level }),
    ]);
  });

  it('has nothing to say of a roomy crucible, and asks for an unknown one', () => {
    expect(chargeVolume({ concentrate, reagents, crucibleVolumeMl: 1000 }).findings).toEqual([]);
    const unknown = chargeVolume({ concentrate, reagents, crucibleVolumeMl: null });
    expect(unknown.fillFrac).toBeNull();
    expect(unknown.findings[0]?.sentence).toContain('at least 360 mL');
    const furnace = { concentrate: { ...concentrate, massG: 10_000 }, reagents, crucibleVolumeMl: null };
    // By hand: (10,000/5.02/0.5 + 200) × 1.5 = 6,276 mL, never rounded down.
    expect(chargeVolume(furnace).findings[0]?.sentence).toContain('at least 6.28 L');
  });

  // Published tables of bulk materials: borax, fine 849; bicarbonate of soda 689; charcoal 208 kg/m³.
  it.each([
    ['borax', 0.849],
    ['sodium bicarbonate', 0.689],
    ['charcoal', 0.208],
  ] as const)('holds the published bulk density of %s, %f g/mL', (reagent, published) => {
    expect(published).toBeGreaterThanOrEqual(bulkDensitiesGpml[reagent].low);
    expect(published).toBeLessThanOrEqual(bulkDensitiesGpml[reagent].high);
  });
});
