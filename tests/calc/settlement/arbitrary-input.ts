import fc from 'fast-check';
import type { ConcentrateParcel, DoreParcel, SettlementInput } from '../../../api/calc/settlement/input.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { assayFor, concentrateTerms, decimalBetween, doreTerms, usualPrice } from './arbitrary-terms.ts';
import { NO_DATES } from './support.ts';

const sublots: fc.Arbitrary<ConcentrateParcel> = fc
  .array(
    fc.record({
      grossKg: decimalBetween(200, 15_000, 1),
      tareKg: decimalBetween(0, 100, 1),
      moistureFrac: decimalBetween(0, 0.2, 4),
    }),
    { minLength: 1, maxLength: 3 },
  )
  .map((all) => ({
    kind: 'concentrate',
    sublots: all.map((sublot, i) => ({ ...sublot, name: `Sublot ${i + 1}` })),
  }));

const bars: fc.Arbitrary<DoreParcel> = fc
  .array(
    fc.record({
      received: fc.integer({ min: 500, max: 200_000 }),
      kept: fc.integer({ min: 970, max: 1000 }),
    }),
    {
      minLength: 1,
      maxLength: 3,
    },
  )
  .map((all) => ({
    kind: 'dore',
    bars: all.map(({ received, kept }, i) => ({
      name: `Bar ${i + 1}`,
      receivedG: (received / 10).toFixed(1),
      afterMeltG: ((received * kept) / 10_000).toFixed(2),
    })),
  }));

function assaysOf(terms: Terms, parcel: SettlementInput['parcel']): fc.Arbitrary<SettlementInput['assays']> {
  const pieces = parcel.kind === 'dore' ? parcel.bars : parcel.sublots;
  return fc
    .tuple(
      ...terms.assays.map((rule) =>
        fc.boolean().chain((byPiece) => {
          const names = byPiece ? pieces.map((p) => p.name) : [null];
          return fc.tuple(
            ...names.map((sublot) =>
              assayFor(rule, parcel.kind === 'dore').map((results) => ({
                element: rule.element,
                unit: rule.unit,
                ...results,
                sublot,
              })),
            ),
          );
        }),
      ),
    )
    .map((all) => all.flat());
}

/** A price for each option of the metals whose price is to be chosen, and which one was declared. */
function pricesOf(terms: Terms): fc.Arbitrary<SettlementInput['prices']> {
  const chosen = terms.metals.flatMap((metal) => {
    const { basis } = metal.price;
    if (basis.kind !== 'choice') return [];
    const near = usualPrice(metal);
    return [
      fc
        .record({
          prices: fc.tuple(...basis.options.map(() => decimalBetween(near * 0.8, near * 1.2, 3))),
          declaredOption: fc.integer({ min: 0, max: basis.options.length - 1 }),
        })
        .map(({ prices, declaredOption }) => ({
          metal: metal.metal,
          price: null,
          basis: '',
          quotations: [],
          options: prices.map((price, option) => ({ option, price, basis: 'as typed' })),
          declaredOption,
        })),
    ];
  });
  return fc.tuple(...chosen);
}

function inputFor(terms: fc.Arbitrary<Terms>, parcel: fc.Arbitrary<SettlementInput['parcel']>) {
  return fc.tuple(terms, parcel).chain(([t, p]) =>
    fc.tuple(assaysOf(t, p), pricesOf(t)).map(([assays, prices]): SettlementInput => ({
      terms: t,
      stage: 'final',
      parcel: p,
      assays,
      prices,
      dates: NO_DATES,
      previouslyPaid: [],
    })),
  );
}

export const concentrateInput = inputFor(concentrateTerms, sublots);
export const doreInput = inputFor(doreTerms, bars);
