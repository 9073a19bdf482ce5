import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chargeSheet } from '../../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetInput, RecipeLine } from '../../../api/calc/smelting/charge-sheet-input.ts';

const line = (name: string, gramsPerHundredG: string, kind: RecipeLine['kind'] = 'reagent'): RecipeLine => ({
  supplyId: `supply-${name}`,
  name,
  kind,
  gramsPerHundredG,
});

/** An invented batch of an invented concentrate. */
const batch: ChargeSheetInput = {
  dryMassKg: '62.4',
  minerals: [
    { mineral: 'pyrite', massFrac: 0.6 },
    { mineral: 'quartz', massFrac: 0.4 },
  ],
  treatment: {
    roast: true,
    recipe: [
      line('Soda ash', '80'),
      line('Anhydrous borax', '20'),
      line('Silica', '15'),
      line('Flour', '7.5'),
      line('Lead shot', '30', 'lead'),
      line('Litharge', '10', 'litharge'),
    ],
    chargeSizeKg: 5,
    roastHoursPerCharge: 2.5,
    furnaceHoursPerCharge: 1.5,
    labourHoursPerCharge: 0.7,
    fuelPerCharge: 2.2,
    crucibleLifeCharges: 8,
    leadReturnLowFrac: 0.8,
    leadReturnModeFrac: 0.9,
    leadReturnHighFrac: 0.95,
  },
  fuel: { name: 'Propane', unit: 'kg' },
  crucible: { name: 'Crucible, 25 L', volumeMl: 25_000 },
  cupel: { name: 'Cupel, large', leadCapacityG: 950 },
  roastPanKg: 2,
  weighingStepG: '1',
};

const sheetOf = (input: ChargeSheetInput) => {
  const { sheet } = chargeSheet(input);
  if (sheet === null) throw new Error('the invented batch must give a sheet');
  return sheet;
};
const codesOf = (input: ChargeSheetInput) => chargeSheet(input).findings.map((finding) => finding.code);

describe('charge sheet', () => {
  const sheet = sheetOf(batch);

  // By hand: 62.4 kg = 12 × 5 kg + 2.4 kg.
  it('splits the batch into full charges and a last smaller one', () => {
    expect(sheet.charges).toEqual([
      { count: 12, concentrateG: '5000' },
      { count: 1, concentrateG: '2400' },
    ]);
    expect(sheet.chargeCount).toBe(13);
  });

  it('weighs out by the recipe, per charge in grams and in all in kilograms', () => {
    expect(sheet.lines[0]).toEqual({
      supplyId: null,
      name: 'Concentrate, dry, as received',
      massG: ['5000', '2400'],
      totalKg: '62.4',
    });
    expect(sheet.lines.find((one) => one.name === 'Flour')).toMatchObject({
      massG: ['375', '180'],
      totalKg: '4.680',
    });
    expect(sheet.rounding).toContain('multiples of 1 g');
  });

  it('adds up lead with the lead of litharge, and what should come back', () => {
    // 18.72 kg + 6.24 kg × 207.2/223.199 (IUPAC 2021)
    expect(sheet.lead.inKg).toBe('24.513');
    expect(sheet.lead.backKg.mode).toBeCloseTo(24.513 * 0.9, 3);
    expect(sheet.lead.backKg.low).toBeLessThan(sheet.lead.backKg.high);
  });

  it('counts crucibles, cupels, pans, fuel and hours for every charge, the last one too', () => {
    expect(sheet.crucibles).toMatchObject({ count: 2, lifeCharges: 8 });
    // Button of a full charge at most (1500 + 500 × 0.92832) × 0.95 = 1866 g: 2 cupels of 950 g; last 896 g: 1.
    expect(sheet.cupels?.count).toBe(12 * 2 + 1);
    expect(sheet.roast).toMatchObject({ panLoads: 12 * 3 + 2, hours: '32.5' });
    // 60 % pyrite loses 0.6 × 33.44 % on a dead roast.
    expect(sheet.roast?.calcineKgPerCharge).toBeCloseTo(5 * (1 - 0.6 * 0.3344), 3);
    // 62.4 kg × 0.6 × 128.116/119.965: SO2 by the roast of pyrite (IUPAC 2021).
    expect(sheet.roast?.sulfurDioxideKg).toBeCloseTo(62.4 * 0.6 * 1.06795, 3);
    expect(sheet.roast?.arsenicTrioxideKg).toBe(0);
    expect(sheet.fuel).toEqual({ name: 'Propane', unit: 'kg', total: '28.6' });
    expect(sheet.furnaceHours).toBe('19.5');
    // Nothing is left to burn in the crucible after a dead roast.
    expect(sheet.meltSulfurDioxideKg).toBeCloseTo(0, 9);
    expect(sheet.labourHours).toBe('9.1');
  });

  it('gives the steps of this treatment in their order, and only those', () => {
    const text = sheet.steps.join('\n');
    expect(text.indexOf('Roast thin')).toBeLessThan(text.indexOf('Melt, about'));
    expect(text.indexOf('Melt, about')).toBeLessThan(text.indexOf('cupel it'));
    expect(text).toContain('430 to 540 °C');
    expect(text).not.toContain('iron out');
    const ironMelt = sheetOf({
      ...batch,
      treatment: {
        ...batch.treatment,
        roast: false,
        recipe: [line('Rebar', '20', 'iron'), line('Lead', '30')],
      },
    });
    expect(ironMelt.steps.join('\n')).toContain('Draw the iron out');
    expect(ironMelt.steps.join('\n')).not.toContain('Roast thin');
    expect(ironMelt.roast).toBeNull();
    expect(ironMelt.ironKg).toBe('12.480');
    // 60 g of pyrite in 100 g take up 60 × 55.845/119.965 = 27.93 g of iron (IUPAC 2021); 20 g are there. What
    // it does not catch gives off half of its sulfur: 62.4 kg × 0.6 × (1 − 20/27.93) × 0.2672, burnt × 1.998.
    expect(ironMelt.meltSulfurDioxideKg).toBeCloseTo(62.4 * 0.6 * (1 - 20 / 27.93) * 0.26724 * 1.99807, 2);
    expect(ironMelt.cautions.map((caution) => caution.code)).toContain('sulfur-dioxide-when-smelting');
  });

  it('shows the cautions of this sheet', () => {
    expect(sheet.cautions.map((caution) => caution.code)).toEqual(['sulfur-dioxide', 'lead', 'molten-metal']);
    const arsenical = sheetOf({
      ...batch,
      minerals: [{ mineral: 'arsenopyrite', massFrac: 0.1 }],
      treatment: { ...batch.treatment, recipe: [...batch.treatment.recipe, line('Niter, technical', '5')] },
    });
    expect(arsenical.cautions.map((caution) => caution.code)).toEqual([
      'arsenic-when-roasting',
      'sulfur-dioxide',
      'lead',
      'molten-metal',
      'nitre',
      'nitre-with-reducers',
    ]);
  });

  it('stops before an arsenical roast, with the fume it would give', () => {
    const arsenical: ChargeSheetInput = { ...batch, minerals: [{ mineral: 'arsenopyrite', massFrac: 0.1 }] };
    expect(sheetOf(arsenical).steps[0]).toMatch(/^Stop: the lot holds arsenopyrite/u);
    // 62.4 kg × 0.1 × 98.921/162.827 (IUPAC 2021)
    expect(sheetOf(arsenical).roast?.arsenicTrioxideKg).toBeCloseTo(62.4 * 0.1 * 0.60752, 3);
    expect(codesOf(arsenical)).toContain('arsenic-in-roast');
    const raw = { ...arsenical, treatment: { ...arsenical.treatment, roast: false } };
    expect(codesOf(raw)).not.toContain('arsenic-in-roast');
    expect(sheetOf(raw).steps[0]).toMatch(/^Dry the concentrate/u);
  });

  it('speaks of lead even where the recipe names none', () => {
    const noLead = { ...batch, treatment: { ...batch.treatment, recipe: [line('Soda ash', '80')] } };
    expect(sheetOf(noLead).cautions.map((caution) => caution.code)).toContain('lead');
    expect(codesOf(noLead)).toContain('collector-missing');
    expect(codesOf({ ...noLead, minerals: [] })).toContain('collector-missing');
  });

  it('makes one charge of a batch below the charge size', () => {
    const small = sheetOf({ ...batch, dryMassKg: '3.25' });
    expect(small.charges).toEqual([{ count: 1, concentrateG: '3250' }]);
    expect(small.roast?.calcineKgPerCharge).toBeCloseTo(3.25 * (1 - 0.6 * 0.3344), 3);
  });

  it('says what is small, coarse, unknown or missing', () => {
    expect(codesOf({ ...batch, dryMassKg: '60.5' })).toContain('last-charge-small');
    expect(codesOf({ ...batch, weighingStepG: '50' })).toContain('rounding-coarse');
    const mystery = { ...batch, treatment: { ...batch.treatment, recipe: [line('Thinning flux', '5')] } };
    expect(codesOf(mystery)).toContain('reagent-unknown');
    const thrifty = { ...batch, treatment: { ...batch.treatment, fuelPerCharge: 0.22 } };
    expect(codesOf(thrifty)).toContain('fuel-below-need');
    expect(codesOf(batch)).not.toContain('fuel-below-need');
    expect(codesOf({ ...thrifty, fuel: { name: 'Charcoal', unit: 'kg' } })).not.toContain('fuel-below-need');
    const bare = codesOf({ ...batch, minerals: [], fuel: null, crucible: null, cupel: null });
    expect(bare).toEqual(['minerals-missing', 'crucible-missing', 'cupel-missing', 'fuel-missing']);
  });

  it('carries over what the recipe will do, with the size of charge it speaks of', () => {
    const { findings } = chargeSheet({ ...batch, crucible: { name: 'Crucible, 5 L', volumeMl: 5000 } });
    const full = findings.find((finding) => finding.code === 'crucible-over-filled');
    expect(full).toMatchObject({ level: 'blocker', path: '/crucible/volumeMl' });
    expect(full?.sentence).toMatch(/^In a charge of 5 kg: /u);
  });

  it.each([
    ['/dryMassKg', { dryMassKg: '0' }],
    ['/dryMassKg', { dryMassKg: 'a lot' }],
    ['/weighingStepG', { weighingStepG: '0' }],
    ['/roastPanKg', { roastPanKg: 0 }],
    ['/cupel/leadCapacityG', { cupel: { name: 'Cupel', leadCapacityG: 0 } }],
    ['/treatment/chargeSizeKg', { treatment: { ...batch.treatment, chargeSizeKg: 0 } }],
    [
      '/treatment/crucibleLifeCharges',
      { treatment: { ...batch.treatment, crucibleLifeCharges: Number.NaN } },
    ],
    [
      '/treatment/recipe/0/gramsPerHundredG',
      { treatment: { ...batch.treatment, recipe: [line('Soda ash', '-1')] } },
    ],
  ] satisfies [string, Partial<ChargeSheetInput>][])(
    'gives no sheet where %s is impossible',
    (path, change) => {
      const { sheet: none, findings } = chargeSheet({ ...batch, ...change });
      expect(none).toBeNull();
      expect(findings).toEqual([expect.objectContaining({ level: 'blocker', path })]);
    },
  );

  it('adds up exactly: charges × mass + last charge is the total, for any batch, recipe and scale', () => {
    const decimalText = (most: number, decimals: number) =>
      fc
        .integer({ min: 1, max: most * 10 ** decimals })
        .map((units) => (units / 10 ** decimals).toFixed(decimals));
    const anyBatch = fc.record({
      dryMassKg: decimalText(5000, 3),
      chargeSizeKg: fc.integer({ min: 1, max: 400 }).map((tenths) => tenths / 10),
      grams: fc.array(decimalText(300, 2), { minLength: 1, maxLength: 6 }),
      weighingStepG: fc.constantFrom('0.01', '0.1', '0.5', '1', '5', '20'),
    });
    fc.assert(
      fc.property(anyBatch, ({ dryMassKg, chargeSizeKg, grams, weighingStepG }) => {
        const any = sheetOf({
          ...batch,
          dryMassKg,
          weighingStepG,
          treatment: {
            ...batch.treatment,
            chargeSizeKg,
            recipe: grams.map((gramsPerHundredG, index) => line(`Reagent ${index}`, gramsPerHundredG)),
          },
        });
        for (const one of any.lines) {
          const total = one.massG.reduce(
            (sum, massG, index) => sum.plus(new Decimal(massG).times(any.charges[index]?.count ?? 0)),
            new Decimal(0),
          );
          expect(total.div(1000).equals(one.totalKg)).toBe(true);
          if (one.supplyId === null) continue;
          for (const massG of one.massG) expect(new Decimal(massG).mod(weighingStepG).isZero()).toBe(true);
          const gramsPerHundredG = grams[any.lines.indexOf(one) - 1] ?? '0';
          const byRecipeKg = new Decimal(dryMassKg).times(gramsPerHundredG).div(100);
          const mostOffKg = new Decimal(weighingStepG).div(2).times(any.chargeCount).div(1000);
          expect(byRecipeKg.minus(one.totalKg).abs().lte(mostOffKg.plus(1e-15))).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });
});
