import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import { settleAssay, type AssayResults } from '../../../api/calc/terms/assay-exchange.ts';
import type { AssayRule, UmpireRule, UmpireTerms } from '../../../api/calc/terms/assay-terms.ts';

function rule(umpireRule: UmpireRule, more: Partial<UmpireTerms> = {}, limit = '0.50'): AssayRule {
  return {
    element: 'Au',
    unit: 'g/t',
    rounding: halfUp(2),
    settledBy: {
      kind: 'exchange',
      splittingLimits: [{ fromGrade: '0', limit }],
      umpire: { rule: umpireRule, cost: '200', costBorneBy: 'further-party', advancedBy: 'buyer', ...more },
      absentPartyBound: false,
    },
  };
}

const settle = (by: AssayRule, results: AssayResults, stage: 'provisional' | 'final' = 'final') =>
  settleAssay({ rule: by, results, stage });
const results = (
  seller: string | null,
  buyer: string | null,
  umpire: string | null = null,
): AssayResults => ({
  seller,
  buyer,
  umpire,
});

describe('exchange of assays', () => {
  // Rules that contracts use (common practice); the example is derived: seller 12.40, buyer 11.80, umpire 12.30.
  it.each<[UmpireRule, string]>([
    ['middle-of-three', '12.3'],
    ['mean-of-umpire-and-nearer', '12.35'],
    ['nearer-party', '12.4'],
    ['mean-of-nearest-two', '12.35'],
  ])('settles by %s at %s, the buyer bearing the umpire', (name, assay) => {
    const settled = settle(rule(name), results('12.40', '11.80', '12.30'));
    expect(settled.value?.toFixed()).toBe(assay);
    expect(settled.sellerUmpireShareFrac?.toFixed()).toBe('0');
  });

  it.each<[UmpireRule, string, string]>([
    // An umpire beyond both parties: the middle is the nearer party.
    ['middle-of-three', '13.00', '12.4'],
    ['nearer-party', '13.00', '12.4'],
    ['mean-of-umpire-and-nearer', '13.00', '12.7'],
    // 12.40 and 11.80 are 0.60 apart, 13.10 is 0.70 from the nearer: the parties lie closest.
    ['mean-of-nearest-two', '13.10', '12.1'],
    ['mean-of-nearest-two', '12.90', '12.65'],
    // Exactly between both: the umpire stands, it is the mean of all three.
    ['middle-of-three', '12.10', '12.1'],
    ['nearer-party', '12.10', '12.1'],
    ['mean-of-umpire-and-nearer', '12.10', '12.1'],
    ['mean-of-nearest-two', '12.10', '12.1'],
  ])('settles by %s with an umpire at %s at %s', (name, umpire, assay) => {
    expect(settle(rule(name), results('12.40', '11.80', umpire)).value?.toFixed()).toBe(assay);
  });

  it('averages a difference that does not exceed the limit, the limit included', () => {
    expect(settle(rule('nearer-party'), results('12.30', '11.80')).value?.toFixed()).toBe('12.05');
    const beyond = settle(rule('nearer-party'), results('12.31', '11.80'));
    expect(beyond.value).toBeNull();
    expect(beyond.missing).toBe("the umpire's result");
  });

  it('takes the limit of the grade', () => {
    const banded = rule('nearer-party');
    if (banded.settledBy.kind !== 'exchange') throw new Error('not an exchange');
    banded.settledBy.splittingLimits = [
      { fromGrade: '0', limit: '0.2' },
      { fromGrade: '10', limit: '0.5' },
    ];
    expect(settle(banded, results('9.0', '8.7')).missing).toBe("the umpire's result");
    expect(settle(banded, results('12.0', '11.6')).value?.toFixed()).toBe('11.8');
  });

  it.each<[UmpireTerms['costBorneBy'], string, string]>([
    ['further-party', '11.90', '1'],
    ['further-party', '12.30', '0'],
    ['further-party', '12.10', '0.5'],
    ['shared', '12.30', '0.5'],
    ['seller', '12.30', '1'],
    ['buyer', '11.90', '0'],
  ])('lays the cost %s with an umpire at %s: seller %s', (costBorneBy, umpire, share) => {
    const settled = settle(rule('nearer-party', { costBorneBy }), results('12.40', '11.80', umpire));
    expect(settled.sellerUmpireShareFrac?.toFixed()).toBe(share);
  });

  it('binds a party that does not exchange, where the contract says so', () => {
    const bound = rule('nearer-party');
    if (bound.settledBy.kind !== 'exchange') throw new Error('not an exchange');
    bound.settledBy.absentPartyBound = true;
    expect(settle(bound, results(null, '11.80')).value?.toFixed()).toBe('11.8');
    expect(settle(rule('nearer-party'), results(null, '11.80')).missing).toBe("the seller's result");
    expect(settle(rule('nearer-party'), results(null, null)).missing).toBe(
      "the seller's result and the buyer's result",
    );
  });

  it('lets what is known stand in provisionally, and says so', () => {
    const early = settle(rule('nearer-party'), results('12.40', null), 'provisional');
    expect(early.value?.toFixed()).toBe('12.4');
    expect(early.provisionalOnly).toBe(true);
    const apart = settle(rule('nearer-party'), results('12.40', '11.80'), 'provisional');
    expect(apart.value?.toFixed()).toBe('12.1');
    expect(apart.provisionalOnly).toBe(true);
  });

  it.each([
    ['seller', '12.4'],
    ['buyer', '11.8'],
    ['mean', '12.1'],
  ] as const)('takes the %s alone where that is agreed', (kind, assay) => {
    const by = { ...rule('nearer-party'), settledBy: { kind } };
    expect(settle(by, results('12.40', '11.80')).value?.toFixed()).toBe(assay);
    expect(settle(by, results(null, null)).value).toBeNull();
  });

  it('stays within the three results, whatever they are', () => {
    const grade = fc.integer({ min: 0, max: 5000 }).map((n) => (n / 100).toFixed(2));
    const names = fc.constantFrom<UmpireRule[]>(
      'middle-of-three',
      'mean-of-nearest-two',
      'mean-of-umpire-and-nearer',
      'nearer-party',
    );
    fc.assert(
      fc.property(grade, grade, grade, names, (seller, buyer, umpire, name) => {
        const { value } = settle(rule(name), results(seller, buyer, umpire));
        const all = [seller, buyer, umpire].map(Number);
        expect(value).not.toBeNull();
        expect(value?.gte(Math.min(...all)) === true && value.lte(Math.max(...all))).toBe(true);
      }),
    );
  });
});
