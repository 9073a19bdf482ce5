import { describe, expect, it } from 'vitest';
import { containedMetalG } from '../../../api/calc/production/contained-metal.ts';
import { daySums } from '../../../api/calc/production/day-sums.ts';
import { partsAgainstWeighing } from '../../../api/calc/production/parts-weighing.ts';
import { shipmentWorth } from '../../../api/calc/production/shipment-worth.ts';
import { whereabouts, type ProductStory } from '../../../api/calc/production/whereabouts.ts';

const made: ProductStory = {
  madeOn: '2031-06-01',
  isUsedUp: false,
  workedUpOn: null,
  writtenOffOn: null,
  shipment: null,
  statements: [],
};
const sent = { code: 'SH-1', shippedOn: '2031-06-05', arrivedOn: null };
const statement = (stage: string, issuedOn: string) => ({
  number: 'S-0001',
  stage,
  issuedOn,
  shippedOn: '2031-06-04',
  arrivedOn: null,
});

describe('where a product is', () => {
  it.each<[string, Partial<ProductStory>, string, string]>([
    ['made', {}, 'in-stock', '2031-06-01'],
    ['shipped', { shipment: sent }, 'under-way', '2031-06-05'],
    ['arrived', { shipment: { ...sent, arrivedOn: '2031-06-08' } }, 'at-buyer', '2031-06-08'],
    [
      'settled provisionally without a shipment',
      { statements: [statement('provisional', '2031-06-09')] },
      'at-buyer',
      '2031-06-04',
    ],
    [
      'settled for good',
      {
        shipment: sent,
        statements: [statement('provisional', '2031-06-09'), statement('final', '2031-06-30')],
      },
      'settled',
      '2031-06-30',
    ],
    ['partly written off', { writtenOffOn: '2031-06-03' }, 'in-stock', '2031-06-01'],
    ['written off', { isUsedUp: true, writtenOffOn: '2031-06-03' }, 'written-off', '2031-06-03'],
    [
      'the rest worked up again',
      { isUsedUp: true, writtenOffOn: '2031-06-03', workedUpOn: '2031-06-04' },
      'worked-up-again',
      '2031-06-04',
    ],
  ])('%s', (_name, story, where, since) => {
    expect(whereabouts({ ...made, ...story })).toMatchObject({ where, since });
  });
});

describe('metal in stock and on the way', () => {
  it('is mass times grade, with both uncertainties', () => {
    // By hand: 200 kg × 900 g/t = 180 g; relative √(0.01² + 0.05²) = 5.099 % → 9.178 g.
    const metal = containedMetalG({ value: 200, u: 2 }, { value: 900, u: 45 });
    expect(metal?.value).toBeCloseTo(180, 10);
    expect(metal?.u).toBeCloseTo(180 * Math.sqrt(0.01 ** 2 + 0.05 ** 2), 10);
    expect(containedMetalG({ value: 200, u: 2 }, null)).toBeNull();
  });

  const bar = { code: 'BAR-1', goldG: 311.034768, silverG: 622.069536 };
  const shipment = {
    code: 'SH-1',
    products: [bar],
    priceOzt: { Au: 2400, Ag: 30 },
    currency: 'USD',
    insuredFor: 24_600,
  };

  it('is worth its ounces at the quotations', () => {
    // 311.034768 g = 10 ozt at 2,400 and 622.069536 g = 20 ozt at 30.
    expect(shipmentWorth(shipment).value).toBeCloseTo(24_600, 6);
    expect(shipmentWorth(shipment).findings).toEqual([]);
  });

  it('is said where it is not insured in full, or not at all, or cannot be valued', () => {
    const codes = (fields: Partial<typeof shipment> | { insuredFor: null }) =>
      shipmentWorth({ ...shipment, ...fields }).findings.map(({ code }) => code);
    expect(codes({ insuredFor: 20_000 })).toEqual(['under-insured']);
    expect(shipmentWorth({ ...shipment, insuredFor: 20_000 }).findings[0]?.sentence).toContain('4,600 USD');
    expect(codes({ insuredFor: null })).toEqual(['not-insured']);
    const matte = { code: 'M-1', goldG: null, silverG: null };
    expect(codes({ products: [bar, matte as never] })).toEqual(['metal-not-known']);
    expect(
      shipmentWorth({ ...shipment, priceOzt: { Au: null, Ag: 30 } }).findings.map(({ code }) => code),
    ).toEqual(['no-quotation']);
  });
});

describe('parts of a lot against its own weighing', () => {
  const lot = { code: 'A', dryMassKg: '100', scaleUncertaintyFrac: 0.005 };
  it('differ no more than the scale explains, or are said to', () => {
    // u = 0.005 × √(100² + 60² + 40²) = 0.616 kg: 1.2 kg is within twice that, 1.3 kg is not.
    const parts = (last: string) =>
      partsAgainstWeighing({ ...lot, parts: [{ dryMassKg: '60' }, { dryMassKg: last }] });
    expect(parts('41.2')).toEqual([]);
    expect(parts('41.3')[0]?.sentence).toMatch(/1\.3 kg less than the 101\.3 kg/);
    expect(parts('30')[0]?.sentence).toMatch(/10 kg more/);
    expect(partsAgainstWeighing({ ...lot, parts: [] })).toEqual([]);
  });
});

describe('days added up', () => {
  it('count what was entered, and the yield of days that have both', () => {
    const day = (feedDryT: string | null, concentrateDryKg: string | null) => ({
      feedDryT,
      concentrateDryKg,
      hoursRun: '7.5',
      supplies: [{ supplyId: 'fuel', quantity: '10.1' }],
      labour: [{ supplyId: 'wage', hours: '8' }],
    });
    expect(daySums([day('10', '20'), day('5', null), day(null, '4')])).toEqual({
      days: 3,
      feedDryT: '15',
      concentrateDryKg: '24',
      hoursRun: '22.5',
      labourHours: '24',
      concentrateKgPerT: 2,
      supplies: [{ supplyId: 'fuel', quantity: '30.3' }],
    });
    expect(daySums([]).concentrateKgPerT).toBeNull();
  });
});
