import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Reagent } from '../../../api/calc/smelting/reagents.ts';
import { reagentNames } from '../../../api/calc/smelting/reagents.ts';
import type { SlagOxide } from '../../../api/calc/smelting/slag-oxides.ts';
import { slagPartsOfLot } from '../../../api/calc/smelting/slag-oxides.ts';
import {
  bringSlagToAim,
  reagentToReachDegree,
  silicateDegree,
  silicateName,
} from '../../../api/calc/smelting/slag.ts';

const silicaFor = (material: Reagent | SlagOxide, aimDegree: number) =>
  reagentToReachDegree({ parts: [{ material, massG: 1 }], aimDegree, reagent: 'silica' });

describe('silicate degree', () => {
  // Silica per gram of base in a singulosilicate 2MO·SiO2, worked by hand from the IUPAC 2021 atomic weights;
  // the metallurgist's tables print 0.417 (FeO) and 0.536 (CaO).
  it.each([
    ['FeO', 0.418],
    ['CaO', 0.536],
    ['Na2O', 0.485],
    ['PbO', 0.1346],
    ['soda ash', 0.2834],
    ['lime', 0.536],
    ['limestone', 0.3002],
  ] as const)('a gram of %s takes %f g of silica to a monosilicate', (material, expected) => {
    expect(silicaFor(material, 1)).toBeCloseTo(expected, 3);
    expect(silicaFor(material, 1.5)).toBeCloseTo(1.5 * (silicaFor(material, 1) ?? 0), 12);
    expect(silicaFor(material, 2)).toBeCloseTo(2 * (silicaFor(material, 1) ?? 0), 12);
  });

  // C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904: 50 g of quartz to bisilicate takes 88.5 g of
  // soda or 186 g of litharge, with the atomic weights of the time.
  it.each([
    ['soda ash', 88.5, 88.2],
    ['litharge', 186, 185.74],
  ] as const)('50 g of quartz take of %s %f g as printed, %f recomputed', (reagent, printed, recomputed) => {
    const massG = reagentToReachDegree({ parts: [{ material: 'silica', massG: 50 }], aimDegree: 2, reagent });
    expect(massG).toBeCloseTo(recomputed, 2);
    expect(Math.abs((massG ?? 0) - printed)).toBeLessThan(0.4);
  });

  // Beringer, op. cit., on fluxes: a part of dried soda stands for rather more than one and a half of bicarbonate, a
  // little more than half as much fused borax for borax, a part of lime for 1.8 of carbonate.
  it.each([
    ['soda ash', 'sodium bicarbonate', 1.5, 1.6],
    ['anhydrous borax', 'borax', 1.85, 1.95],
    ['lime', 'limestone', 1.75, 1.8],
  ] as const)('a gram of %s does the work of as much %s as %f to %f g', (one, other, least, most) => {
    const oneAlone = silicateDegree([
      { material: 'silica', massG: 1 },
      { material: one, massG: 1 },
    ]);
    const asMuch = (massG: number) =>
      silicateDegree([
        { material: 'silica', massG: 1 },
        { material: other, massG },
      ]) ?? 0;
    const bounds = [asMuch(least), asMuch(most)].toSorted((a, b) => a - b);
    expect(oneAlone).toBeGreaterThan(bounds[0] ?? 0);
    expect(oneAlone).toBeLessThan(bounds[1] ?? 0);
  });

  it('counts borax as acid by its boric oxide: borax glass alone is Na2O·2B2O3, degree 6', () => {
    expect(silicateDegree([{ material: 'anhydrous borax', massG: 10 }])).toBeCloseTo(6, 12);
    expect(silicateDegree([{ material: 'borax', massG: 10 }])).toBeCloseTo(6, 12);
  });

  it('lets fluorspar, reducers and metals count for nothing', () => {
    const slag = [
      { material: 'silica', massG: 10 },
      { material: 'soda ash', massG: 20 },
    ] as const;
    const more = (['fluorspar', 'flour', 'charcoal', 'lead', 'iron'] as const).map((material) => ({
      material,
      massG: 50,
    }));
    expect(silicateDegree([...slag, ...more])).toBe(silicateDegree(slag));
  });

  it.each([
    [0.5, 'subsilicate'],
    [1, 'monosilicate'],
    [1.5, 'sesquisilicate'],
    [2, 'bisilicate'],
    [3, 'trisilicate or more acid'],
  ])('calls %f a %s', (degree, name) => {
    expect(silicateName(degree)).toBe(name);
  });
});

describe('bringing a slag to its aim', () => {
  it('adds silica to a basic slag and says so', () => {
    const { add, degreeNow, findings } = bringSlagToAim({ parts: [{ material: 'FeO', massG: 100 }] });
    expect(degreeNow).toBe(0);
    expect(add).toEqual({ reagent: 'silica', massG: expect.closeTo(1.5 * 41.82, 1) });
    expect(findings.map((finding) => finding.code)).toEqual(['slag-too-basic']);
  });

  it('adds soda to an acid slag, also where there is no base at all', () => {
    const { add, degreeNow, findings } = bringSlagToAim({ parts: [{ material: 'silica', massG: 50 }] });
    expect(degreeNow).toBeNull();
    expect(add).toEqual({ reagent: 'soda ash', massG: expect.closeTo((88.2 * 2) / 1.5, 1) });
    expect(findings.map((finding) => finding.code)).toEqual(['slag-too-acid']);
  });

  it('blocks where nothing makes a slag', () => {
    expect(bringSlagToAim({ parts: [{ material: 'lead', massG: 30 }] }).findings[0]).toMatchObject({
      code: 'no-slag',
      level: 'blocker',
    });
  });

  it('says that a reagent cannot lead to the aim', () => {
    const parts = [{ material: 'FeO', massG: 100 }] as const;
    expect(reagentToReachDegree({ parts, aimDegree: 1.5, reagent: 'lime' })).toBeNull();
    expect(reagentToReachDegree({ parts, aimDegree: 1.5, reagent: 'flour' })).toBeNull();
  });

  it('reaches the aim from any mixture', () => {
    const part = fc.record({
      material: fc.constantFrom(...reagentNames),
      massG: fc.double({ min: 0.1, max: 500, noNaN: true }),
    });
    const aim = fc.double({ min: 0.8, max: 2.5, noNaN: true });
    fc.assert(
      fc.property(fc.array(part, { minLength: 1 }), aim, (parts, aimDegree) => {
        const { add, findings } = bringSlagToAim({ parts, aimDegree });
        if (findings.some((finding) => finding.code === 'no-slag')) return;
        const after = add === null ? parts : [...parts, { material: add.reagent, massG: add.massG }];
        expect(silicateDegree(after)).toBeCloseTo(aimDegree, 9);
      }),
    );
  });
});

describe('oxides that a lot brings to the slag', () => {
  const minerals = [
    { mineral: 'pyrite', massFrac: 0.5 },
    { mineral: 'sphalerite', massFrac: 0.1 },
    { mineral: 'hematite', massFrac: 0.2 },
    { mineral: 'quartz', massFrac: 0.2 },
  ] as const;

  it('takes iron oxide and quartz from a raw lot, no sulfide', () => {
    const parts = slagPartsOfLot({ minerals, lotMassG: 100, sulfidesOxidizedFrac: 0 });
    expect(parts).toEqual([
      { material: 'FeO', massG: expect.closeTo((20 * 2 * 71.844) / 159.687, 6) },
      { material: 'SiO2', massG: expect.closeTo(20, 9) },
    ]);
  });

  it('takes the iron of pyrite and the zinc as well once they are oxidized', () => {
    const parts = slagPartsOfLot({ minerals, lotMassG: 100, sulfidesOxidizedFrac: 1 });
    const ferrousOxideG = (20 * 2 * 71.844) / 159.687 + (50 * 71.844) / 119.965;
    expect(parts.find((part) => part.material === 'FeO')?.massG).toBeCloseTo(ferrousOxideG, 6);
    expect(parts.find((part) => part.material === 'ZnO')?.massG).toBeCloseTo((10 * 81.379) / 97.44, 6);
  });
});
