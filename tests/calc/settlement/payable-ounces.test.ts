import { describe, expect, it } from 'vitest';
import { payableOunces } from '../../../api/calc/settlement/payable-ounces.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import type { MetalTerms } from '../../../api/calc/terms/metal-terms.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assay, assayRule, concentrate, metal, NO_DATES } from './support.ts';

const start = startingTerms({ title: 'An invented contract', material: 'concentrate' });

function payable(more: Partial<Terms>, gold: MetalTerms): string | null {
  const settlement = settle({
    terms: { ...start, assays: [assayRule('Au', 'g/t', 2)], metals: [gold], ...more },
    stage: 'final',
    parcel: concentrate('10000', '0.10'),
    assays: [assay('Au', 'g/t', '50.00')],
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
  });
  return payableOunces(settlement, 'Au');
}

describe('payable ounces of a settlement', () => {
  const form = { kind: 'unit-then-percent', paidFrac: '0.96', deduction: '0' } as const;
  it('are those of its lines, from grams too, after a toll share', () => {
    // 9 t × 48 g/t = 432 g = 13.889 oz (1 oz = 31.1034768 g)
    expect(payable({}, metal('Au', 'ozt', '2000', form))).toBe('13.889');
    expect(payable({}, metal('Au', 'g', '64', form))).toBe('13.889');
    expect(payable({ tollShareFrac: '0.5' }, metal('Au', 'g', '64', form))).toBe('6.945');
  });
  it('are none below the least grade, and unknown where nothing was settled', () => {
    expect(payable({}, metal('Au', 'ozt', '2000', form, { minimumGrade: '60' }))).toBe('0.000');
    expect(payable({ assays: [] }, metal('Au', 'ozt', '2000', form))).toBeNull();
  });
});
