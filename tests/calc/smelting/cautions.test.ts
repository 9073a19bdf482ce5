import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Hazards } from '../../../api/calc/smelting/cautions.ts';
import { cautionsFor } from '../../../api/calc/smelting/cautions.ts';
import { exposureLimits } from '../../../api/calc/smelting/exposure-limits.ts';

const none: Hazards = {
  roast: false,
  arsenopyrite: false,
  nitre: false,
  reducers: false,
  lead: false,
  nitricAcid: false,
  mercury: false,
};
const codesFor = (hazards: Partial<Hazards>) =>
  cautionsFor({ ...none, ...hazards }).map((caution) => caution.code);

describe('cautions', () => {
  it.each([
    [{}, ['molten-metal']],
    [{ roast: true }, ['sulfur-dioxide', 'molten-metal']],
    [{ roast: true, arsenopyrite: true }, ['arsenic-when-roasting', 'sulfur-dioxide', 'molten-metal']],
    [{ arsenopyrite: true }, ['arsenic-when-smelting', 'molten-metal']],
    [{ lead: true, nitre: true }, ['lead', 'molten-metal', 'nitre']],
    [{ nitre: true, reducers: true }, ['molten-metal', 'nitre', 'nitre-with-reducers']],
    [{ reducers: true }, ['molten-metal']],
    [{ nitricAcid: true }, ['molten-metal', 'nitric-acid']],
    [{ mercury: true }, ['mercury', 'molten-metal']],
    [{ fluorspar: true }, ['molten-metal', 'fluorspar']],
    [{ sulfidesInMelt: true }, ['sulfur-dioxide-when-smelting', 'molten-metal']],
  ])('for %j shows %j', (hazards, codes) => {
    expect(codesFor(hazards)).toEqual(codes);
  });

  it('ends each with the authority of local codes and permits, whatever the work', () => {
    const flag = fc.boolean();
    const anyHazards = fc.record({
      roast: flag,
      arsenopyrite: flag,
      nitre: flag,
      reducers: flag,
      lead: flag,
      nitricAcid: flag,
      mercury: flag,
      fluorspar: flag,
      sulfidesInMelt: flag,
    });
    fc.assert(
      fc.property(anyHazards, (hazards) => {
        const cautions = cautionsFor(hazards);
        expect(new Set(cautions.map((one) => one.code)).size).toBe(cautions.length);
        for (const caution of cautions) {
          expect(caution.text).toMatch(/local codes and permits govern\.$/u);
          if (/ppm|mg\/m³/u.test(caution.text)) expect(caution.source).not.toBe('');
        }
      }),
    );
  });

  // 29 CFR 1910.1000 Table Z-1, 1910.1018, 1910.1025; NIOSH Pocket Guide to Chemical Hazards.
  it('quotes the limits as published', () => {
    expect(exposureLimits.sulfurDioxide).toMatchObject({ oshaPel: '5 ppm', idlh: '100 ppm' });
    expect(exposureLimits.lead).toMatchObject({ oshaPel: '0.050 mg/m³', oshaActionLevel: '0.030 mg/m³' });
    expect(exposureLimits.inorganicArsenic).toMatchObject({ oshaPel: '0.010 mg/m³', idlh: '5 mg/m³' });
    const [arsenic] = cautionsFor({ ...none, roast: true, arsenopyrite: true });
    expect(arsenic?.text).toContain(
      'OSHA limit 0.010 mg/m³; action level 0.005 mg/m³; NIOSH recommends ceiling 0.002 mg/m³; immediately ' +
        'dangerous at 5 mg/m³',
    );
  });
});
