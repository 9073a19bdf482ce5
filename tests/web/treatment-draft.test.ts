import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { treatmentCost } from '../../api/calc/facts/treatment-cost.ts';
import { newTreatment } from '../../api/schemas/treatment.ts';
import type { Supply } from '../../api/schemas/supply.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { usualSupplies } from '../../web/pages/prices/supply-words.ts';
import { liveCost } from '../../web/pages/treatments/live-cost.ts';
import { startingPoints, treatmentFrom } from '../../web/pages/treatments/starting-points.ts';
import {
  emptyTreatmentDraft,
  treatmentDraftOf,
  treatmentFromDraft,
} from '../../web/pages/treatments/treatment-draft.ts';

const on = '2031-05-04';
const supplies: Supply[] = usualSupplies.map((supply, index) => ({
  ...supply,
  id: `0000000${index.toString(16)}-0000-4000-8000-000000000000`,
  version: 1,
  crucibleVolumeMl: null,
  cupelLeadCapacityG: null,
  prices: [{ effectiveOn: '2031-01-01', price: String(index + 1), currency: 'USD' }],
}));
const comma = { ...plainChoices, decimalComma: true };
const pounds = { ...plainChoices, massUnit: 'lb' as const };

describe('starting points', () => {
  it.each(startingPoints)('$name fits the usual supplies and is accepted as it stands', (point) => {
    const { treatment, missing } = treatmentFrom(point, supplies);
    expect(missing.filter((name) => name !== 'cupel')).toEqual([]);
    expect(treatment.recipe).toHaveLength(Object.keys(point.recipe).length);
    expect(newTreatment.safeParse(treatment).error).toBeUndefined();
  });

  it('says what is not among the supplies and leaves it out', () => {
    const nitre = startingPoints.find(({ key }) => key === 'with-nitre');
    if (nitre === undefined) throw new Error('there is a starting point with nitre');
    const { treatment, missing } = treatmentFrom(
      nitre,
      supplies.filter(({ name, kind }) => name !== 'Nitre' && kind !== 'fuel'),
    );
    expect(missing).toEqual(expect.arrayContaining(['nitre', 'fuel']));
    expect(treatment.fuelSupplyId).toBeNull();
    expect(treatment.recipe).toHaveLength(4);
  });
});

describe('the draft of a treatment', () => {
  it.each([plainChoices, comma])('gives back what it was made of', (owner) => {
    for (const point of startingPoints) {
      const { treatment } = treatmentFrom(point, supplies);
      expect(treatmentFromDraft(treatmentDraftOf(treatment, owner), owner)).toEqual(treatment);
    }
  });

  it('shows a charge in pounds and keeps it in kilograms', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 9000, noNaN: true }), (chargeSizeKg) => {
        const { treatment } = treatmentFrom(startingPoints[0]!, supplies);
        const draft = treatmentDraftOf({ ...treatment, chargeSizeKg }, pounds);
        expect(treatmentFromDraft(draft, pounds).chargeSizeKg).toBeCloseTo(chargeSizeKg, 6);
      }),
    );
  });

  it('shows percent and parts in 1000 without the dust of binary fractions', () => {
    const { treatment } = treatmentFrom(startingPoints[0]!, supplies);
    const draft = treatmentDraftOf(
      { ...treatment, goldRecoveryMeanFrac: 0.07, leadReturnModeFrac: 0.29, doreFinenessFrac: 0.9999 },
      comma,
    );
    expect(draft.goldRecoveryMeanFrac).toBe('7');
    expect(draft.leadReturnModeFrac).toBe('29');
    expect(draft.doreFinenessFrac).toBe('999,9');
  });

  it('has no roasting hours where nothing is roasted', () => {
    const draft = { ...emptyTreatmentDraft, roast: false, roastHoursPerCharge: '3' };
    expect(treatmentFromDraft(draft, plainChoices).roastHoursPerCharge).toBe(0);
  });
});

describe('the cost as it is typed', () => {
  it('is that of the treatment which would be saved', () => {
    for (const point of startingPoints) {
      const { treatment } = treatmentFrom(point, supplies);
      const { cost, unread } = liveCost(treatmentDraftOf(treatment, comma), supplies, { owner: comma, on });
      expect(unread).toEqual([]);
      expect(cost).toEqual(treatmentCost(treatment, { supplies, on, currency: 'USD' }));
      expect(cost?.totalPerKg?.likely).toBeGreaterThan(0);
    }
  });

  it('names what is missing or cannot be read', () => {
    const { treatment } = treatmentFrom(startingPoints[0]!, supplies);
    const draft = treatmentDraftOf(treatment, plainChoices);
    const { cost, unread } = liveCost(
      { ...draft, chargeSizeKg: '0', crucibleLifeCharges: '8,5', leadReturnLowFrac: '' },
      supplies,
      { owner: plainChoices, on },
    );
    expect(cost).toBeNull();
    expect(unread).toEqual(['charge size', 'crucible life', 'lead return, low']);
  });
});
