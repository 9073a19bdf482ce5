import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import type { SettlementInput } from '../../../api/calc/settlement/input.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { compileEstimate, estimateNeeds, type EstimateParcel } from '../../../api/calc/terms/estimate.ts';
import { convert, gradeConversion } from '../../../api/calc/terms/conversion.ts';
import { Dec } from '../../../api/calc/money.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { concentrateInput, doreInput } from '../settlement/arbitrary-input.ts';
import { lineOf } from '../settlement/support.ts';

const FINE = halfUp(12);

/** The same contract with the roundings of every stage too fine to be seen. */
function unrounded(terms: Terms): Terms {
  return {
    ...terms,
    assays: terms.assays.map((rule) => ({ ...rule, rounding: FINE, settledBy: { kind: 'seller' } })),
    metals: terms.metals.map((metal) => ({ ...metal, rounding: null })),
    direction: 'we-sell',
    rounding: {
      mass: FINE,
      moisture: FINE,
      payableGrade: FINE,
      payableMetal: FINE,
      price: FINE,
      perTonneValue: FINE,
      money: FINE,
    },
  };
}

/** The parcel of a settlement as a simulation would draw it. */
function parcelOf({ terms, parcel, assays, prices }: SettlementInput): EstimateParcel {
  const masses =
    parcel.kind === 'dore'
      ? parcel.bars.map((b) => ({ wet: Number(b.receivedG) / 1000, dry: Number(b.afterMeltG) / 1000 }))
      : parcel.sublots.map((s) => {
          const wet = Number(s.grossKg) - Number(s.tareKg);
          return { wet, dry: wet * (1 - Number(s.moistureFrac)) };
        });
  const sum = (values: number[]) => values.reduce((total, value) => total + value, 0);
  return {
    wetMassKg: sum(masses.map((m) => m.wet)),
    dryMassKg: sum(masses.map((m) => m.dry)),
    pieces: masses.length,
    prices: Object.fromEntries(
      prices.map(({ metal, options }) => [metal, Number(options?.[0]?.price ?? Number.NaN)]),
    ),
    assays: Object.fromEntries(
      assays.map(({ element, unit, own }) => {
        const gpt = convert(new Dec(own ?? 0), gradeConversion(unit, 'g/t'), terms.factors).toNumber();
        return [element, element === 'Au' || element === 'Ag' ? gpt : gpt / 1e6];
      }),
    ),
  };
}

/** Whole parcel assays only, no tare (the estimate knows no gross mass), one price for all options of a choice. */
function simplified(input: SettlementInput): SettlementInput {
  const first = new Map(input.assays.map((a) => [a.element, { ...a, sublot: null }]));
  const parcel =
    input.parcel.kind === 'dore'
      ? input.parcel
      : { ...input.parcel, sublots: input.parcel.sublots.map((s) => ({ ...s, tareKg: '0' })) };
  const prices = input.prices.map((price) => ({
    ...price,
    options: price.options?.map((option) => ({ ...option, price: price.options?.[0]?.price ?? '' })) ?? [],
    // The estimate takes the party to choose what is best for it.
    declaredOption: bestOption(input.terms, price.metal),
  }));
  return { ...input, terms: unrounded(input.terms), parcel, assays: [...first.values()], prices };
}

function bestOption(terms: Terms, symbol: string): number {
  const basis = terms.metals.find(({ metal }) => metal === symbol)?.price.basis;
  const parts = basis?.kind === 'choice' ? basis.options.map(({ paidFrac }) => Number(paidFrac)) : [];
  return parts.indexOf(Math.max(...parts));
}

/**
 * The parcel, and the same a hundred-millionth lighter, heavier, poorer and richer: exactly at a step of the terms a
 * binary fraction, or a decimal that was converted back and forth, may fall on either side of it.
 */
function besideTheEdges(parcel: EstimateParcel): EstimateParcel[] {
  const near = [1, 1 - 1e-8, 1 + 1e-8];
  return near.flatMap((mass) =>
    near.map((grade) => ({
      ...parcel,
      wetMassKg: parcel.wetMassKg * mass,
      dryMassKg: parcel.dryMassKg * mass,
      assays: Object.fromEntries(
        Object.entries(parcel.assays).map(([element, value]) => [element, value * grade]),
      ),
    })),
  );
}

describe.each([
  ['concentrate', concentrateInput],
  ['doré', doreInput],
])('the estimate of %s', (_material, anyInput) => {
  it('equals the settlement where the terms do not round', () => {
    fc.assert(
      fc.property(anyInput, (generated) => {
        const input = simplified(generated);
        const settlement = settle(input);
        const ownTaxes = (input.terms.taxes ?? []).flatMap((tax, index) =>
          tax.isPassedOn
            ? []
            : settlement.lines
                .filter((line) => line.id.startsWith(`taxes/${index + 1}-`))
                .map(({ amount }) => Number(amount)),
        );
        const taxed = ownTaxes.reduce((sum, amount) => sum + amount, 0);
        const net = Number(lineOf(settlement, 'previous/net-value').result?.value) + taxed;
        const sumOf = (...sections: string[]) =>
          settlement.lines
            .filter((line) => sections.includes(line.section))
            .reduce((sum, line) => sum + Number(line.amount ?? 0), 0);
        const paid = sumOf('payable', 'credits');
        const deducted = -sumOf('charges', 'penalties', 'royalties') - taxed;
        const estimates = besideTheEdges(parcelOf(input)).map(compileEstimate(input.terms));
        const agreeing = estimates.filter((estimate) => {
          const scale = Math.abs(estimate.paymentValue) + Math.abs(estimate.deductionsValue) + 1;
          return (
            Math.abs(estimate.netValue - net) / scale < 1e-7 &&
            Math.abs(estimate.paymentValue - paid) / scale < 1e-7 &&
            Math.abs(estimate.deductionsValue - deducted) / scale < 1e-7
          );
        });
        expect(agreeing, JSON.stringify({ net, paid, deducted, estimates })).not.toHaveLength(0);
      }),
      { numRuns: 400 },
    );
  });

  it('is not a number where an element that the terms need is not stated', () => {
    fc.assert(
      fc.property(anyInput, (generated) => {
        const input = simplified(generated);
        const { elements } = estimateNeeds(input.terms);
        const parcel = parcelOf(input);
        for (const element of elements.filter((e) => e !== 'H2O')) {
          const { [element]: _left, ...assays } = parcel.assays;
          expect(compileEstimate(input.terms)({ ...parcel, assays }).netValue).toBeNaN();
        }
      }),
      { numRuns: 50 },
    );
  });
});

describe('the estimate of metal returned', () => {
  it('counts the metal at its price, which the settlement in metal does not', () => {
    fc.assert(
      fc.property(doreInput, (generated) => {
        const money = simplified({ ...generated, terms: { ...generated.terms, royalties: [], taxes: [] } });
        const metals = money.terms.metals.map((m) => ({ ...m, refining: null }));
        const inMoney = { ...money, terms: { ...money.terms, metals } };
        const inMetal = { ...inMoney, terms: { ...inMoney.terms, settledIn: 'metal' as const } };
        const asMoney = compileEstimate(inMoney.terms)(parcelOf(inMoney));
        const asMetal = compileEstimate(inMetal.terms)(parcelOf(inMetal));
        expect(asMetal).toEqual(asMoney);
        const owed = Number(settle(inMetal).total);
        const deducted = besideTheEdges(parcelOf(inMoney)).map(
          (parcel) => compileEstimate(inMetal.terms)(parcel).deductionsValue,
        );
        const agrees = deducted.some((value) => Math.abs(owed + value) / (1 + Math.abs(owed)) < 1e-7);
        expect(agrees, JSON.stringify({ owed, deducted })).toBe(true);
      }),
      { numRuns: 100 },
    );
  });
});
