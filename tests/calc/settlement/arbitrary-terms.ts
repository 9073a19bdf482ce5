import fc from 'fast-check';
import type { RoundingRule } from '../../../api/calc/rounding.ts';
import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import type {
  ByLevelCharge,
  Charge,
  Credit,
  Escalator,
  Ladder,
  Penalty,
  Royalty,
  TaxTerms,
} from '../../../api/calc/terms/charge-terms.ts';
import type {
  MetalTerms,
  PayableForm,
  PriceBasis,
  SimplePayableForm,
} from '../../../api/calc/terms/metal-terms.ts';
import { STANDARD_FACTORS, startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import type { GradeUnit, MassBasis, MassUnit, PriceUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';

/** A decimal text between two numbers with so many decimals. */
export function decimalBetween(low: number, high: number, decimals: number): fc.Arbitrary<string> {
  const scale = 10 ** decimals;
  return fc
    .integer({ min: Math.ceil(low * scale), max: Math.floor(high * scale) })
    .map((n) => (n / scale).toFixed(decimals));
}

const ruleName = fc.constantFrom('half-up' as const, 'half-even' as const, 'truncate' as const);

function roundingTo(least: number, most: number): fc.Arbitrary<RoundingRule> {
  return fc.record({
    decimals: fc.integer({ min: least, max: most }),
    rule: ruleName,
    multipleOf: fc.constant(null),
  });
}

/** Levels in rising order, the first of them possibly 0. */
function rising(low: number, high: number, decimals: number, most = 3): fc.Arbitrary<string[]> {
  return fc
    .uniqueArray(decimalBetween(low, high, decimals), { minLength: 1, maxLength: most, selector: Number })
    .map((levels) => levels.toSorted((a, b) => Number(a) - Number(b)));
}

const counting = fc.constantFrom('pro-rata' as const, 'whole-steps' as const, 'started-steps' as const);

function ladder(
  high: number,
  decimals: number,
  step: string,
  rate: fc.Arbitrary<string>,
): fc.Arbitrary<Ladder> {
  const rates = fc.array(rate, { minLength: 3, maxLength: 3 });
  const levels = rising(0, high, decimals);
  return fc.oneof(
    fc.tuple(counting, levels, rates).map(([how, froms, values]): Ladder => ({
      kind: 'marginal',
      counting: how,
      bands: froms.map((from, i) => ({ from, step, rate: values[i] ?? '1' })),
    })),
    fc.tuple(counting, levels, rates).map(([how, froms, values]): Ladder => ({
      kind: 'shortfall',
      counting: how,
      bands: froms.toReversed().map((from, i) => ({ from, step, rate: values[i] ?? '1' })),
    })),
    fc.tuple(levels, rates, fc.boolean()).map(([froms, values, above]): Ladder => ({
      kind: 'bracket',
      brackets: froms.map((from, i) => ({
        from,
        reachedAt: above ? 'above' : 'level',
        rate: values[i] ?? '1',
      })),
    })),
  );
}

function escalator(metal: string, price: number): fc.Arbitrary<Escalator> {
  const cap = fc.option(decimalBetween(1, 60, 2));
  return fc
    .record({
      how: counting,
      high: rising(price, price * 1.5, 1, 2),
      low: rising(price * 0.5, price, 1, 2),
      rate: decimalBetween(0, 0.2, 3),
      up: fc.boolean(),
      down: fc.boolean(),
      maximumIncrease: cap,
      maximumDecrease: cap,
    })
    .map(({ how, high, low, rate, up, down, maximumIncrease, maximumDecrease }) => ({
      metal,
      up: up
        ? { kind: 'marginal', counting: how, bands: high.map((from) => ({ from, step: '1', rate })) }
        : null,
      down: down
        ? {
            kind: 'shortfall',
            counting: how,
            bands: low.toReversed().map((from) => ({ from, step: '1', rate })),
          }
        : null,
      maximumIncrease,
      maximumDecrease,
    }));
}

/** Assay ranges that occur, in the units a contract may speak in. */
const GRADES: Record<string, { unit: GradeUnit; high: number; decimals: number }[]> = {
  Au: [
    { unit: 'g/t', high: 300, decimals: 2 },
    { unit: 'oz/short ton', high: 9, decimals: 4 },
    { unit: 'ppm', high: 300, decimals: 1 },
  ],
  Ag: [
    { unit: 'g/t', high: 4000, decimals: 0 },
    { unit: 'oz/t', high: 120, decimals: 2 },
    { unit: 'oz/long ton', high: 120, decimals: 2 },
  ],
  Pb: [{ unit: 'percent', high: 70, decimals: 2 }],
  Cu: [{ unit: 'percent', high: 30, decimals: 2 }],
  As: [{ unit: 'percent', high: 3, decimals: 3 }],
  Sb: [{ unit: 'percent', high: 2, decimals: 2 }],
  Hg: [{ unit: 'ppm', high: 200, decimals: 0 }],
};
const DORE_GRADES: typeof GRADES = {
  Au: [{ unit: 'fineness', high: 950, decimals: 1 }],
  Ag: [{ unit: 'fineness', high: 950, decimals: 1 }],
  Pb: [{ unit: 'percent', high: 5, decimals: 2 }],
};
const PRICES: Record<string, { unit: PriceUnit; price: number; decimals: number }[]> = {
  Au: [
    { unit: 'ozt', price: 2400, decimals: 2 },
    { unit: 'g', price: 77, decimals: 3 },
    { unit: 'kg', price: 77_000, decimals: 0 },
  ],
  Ag: [{ unit: 'ozt', price: 30, decimals: 3 }],
  Pb: [
    { unit: 'tonne', price: 2000, decimals: 2 },
    { unit: 'lb', price: 0.9, decimals: 4 },
    { unit: 'unit', price: 20, decimals: 2 },
    { unit: 'short ton', price: 1800, decimals: 2 },
  ],
  Cu: [
    { unit: 'tonne', price: 9000, decimals: 1 },
    { unit: 'lb', price: 4, decimals: 4 },
    { unit: 'long ton', price: 9100, decimals: 1 },
  ],
};

function payableForm(high: number, decimals: number, other: string): fc.Arbitrary<PayableForm> {
  const paidFrac = decimalBetween(0.5, 1, 3);
  const deduction = decimalBetween(0, high / 20, decimals);
  const simple: fc.Arbitrary<SimplePayableForm> = fc.record({
    kind: fc.constantFrom('lesser-of' as const, 'unit-then-percent' as const, 'percent-then-unit' as const),
    paidFrac,
    deduction,
  });
  const levels = rising(0, high, decimals);
  return fc.oneof(
    { weight: 3, arbitrary: simple },
    fc
      .tuple(levels, fc.array(simple, { minLength: 3, maxLength: 3 }), fc.boolean())
      .map(([froms, forms, byOther]): PayableForm => ({
        kind: 'steps',
        // The other element is assayed in percent, up to a few.
        ...(byOther ? { by: other } : {}),
        steps: froms.map((fromGrade, i) => ({
          fromGrade: byOther ? (i * 0.5).toFixed(1) : fromGrade,
          form: forms[i] as SimplePayableForm,
        })),
      })),
    fc
      .record({
        form: simple,
        slides: fc.constantFrom('paidFrac' as const, 'deduction' as const),
        by: fc.constantFrom(null, other),
        fromGrade: decimalBetween(0, high, decimals),
        rate: decimalBetween(-0.02, 0.05, 3),
        counting: fc.constantFrom('pro-rata' as const, 'whole-steps' as const),
        minimum: fc.option(decimalBetween(0, 0.4, 2)),
        maximum: fc.option(decimalBetween(0.5, 1, 2)),
      })
      .map(({ rate, by, fromGrade, ...slide }): PayableForm => ({
        kind: 'sliding',
        by,
        fromGrade: by === null ? fromGrade : '1',
        step: by === null ? (high / 50).toFixed(Math.max(1, decimals)) : '0.3',
        change: rate,
        ...slide,
      })),
    fc
      .tuple(levels, fc.array(paidFrac, { minLength: 3, maxLength: 3 }))
      .map(([froms, fracs]): PayableForm => ({
        kind: 'bands',
        bands: froms.map((fromGrade, i) => ({ fromGrade, paidFrac: fracs[i] as string })),
      })),
  );
}

/** Prices to choose from by a rule that needs no declaration; what is quoted is entered option by option. */
const quotedChoice: fc.Arbitrary<Extract<PriceBasis, { kind: 'choice' }>> = fc
  .tuple(
    fc.constantFrom('lowest' as const, 'highest' as const, 'mean' as const, 'seller-option' as const),
    fc.array(fc.constantFrom('1', '0.99', '0.975'), { minLength: 2, maxLength: 3 }),
  )
  .map(([rule, parts]) => ({
    kind: 'choice',
    rule,
    options: parts.map((paidFrac, i) => ({
      kind: 'quotations' as const,
      source: `Quotation ${i + 1}`,
      period: { kind: 'calendar-month' as const, event: 'arrival' as const, monthsAfter: i },
      provisional: { kind: 'latest' as const },
      paidFrac,
    })),
  }));

function metalTerms(
  symbol: string,
  grade: { unit: GradeUnit; high: number; decimals: number },
  order: fc.Arbitrary<'grade' | 'content'>,
  dore: boolean,
): fc.Arbitrary<MetalTerms> {
  return fc.constantFrom(...(PRICES[symbol] ?? [])).chain(({ unit, price, decimals }) =>
    fc.record({
      metal: fc.constant(symbol),
      form: payableForm(grade.high, grade.decimals, dore ? 'Pb' : 'As'),
      minimumDeduction: fc.option(decimalBetween(0, grade.high / 10, grade.decimals), { nil: undefined }),
      minimumGrade: fc.option(decimalBetween(0, grade.high / 5, grade.decimals)),
      order,
      price: fc.record({
        unit: fc.constant(unit),
        currency: fc.constant(null),
        basis: fc.oneof(
          {
            weight: 4,
            arbitrary: decimalBetween(price * 0.7, price * 1.3, decimals).map((fixed) => ({
              kind: 'fixed' as const,
              price: fixed,
            })),
          },
          {
            weight: 1,
            arbitrary: fc
              .tuple(
                rising(0, grade.high / 2, grade.decimals),
                fc.array(decimalBetween(price * 0.7, price * 1.3, decimals), { minLength: 3, maxLength: 3 }),
              )
              .map(([froms, prices]) => ({
                kind: 'by-grade' as const,
                steps: froms.map((fromGrade, i) => ({ fromGrade, price: prices[i] as string })),
              })),
          },
          { weight: 2, arbitrary: quotedChoice },
        ),
        paidFrac: fc.constantFrom('1', '0.985', '0.9'),
        reduction: fc.oneof(fc.constant('0'), decimalBetween(0, price * 0.05, decimals)),
        floor: fc.option(decimalBetween(price * 0.8, price * 0.95, decimals), { nil: undefined }),
        cap: fc.option(decimalBetween(price, price * 1.2, decimals), { nil: undefined }),
      }),
      refining: fc.option(
        fc.record({
          kind: fc.constantFrom('per-payable-unit' as const, 'price-reduction' as const),
          rate: decimalBetween(0, price * 0.05, decimals),
          escalators: dore
            ? fc.constant([])
            : fc.array(
                escalator(symbol, price).map((e): Escalator => ({
                  ...e,
                  maximumIncrease: (price * 0.02).toFixed(decimals),
                  maximumDecrease: '0',
                })),
                { maxLength: 1 },
              ),
        }),
      ),
      rounding: fc.option(roundingTo(1, 5)),
    }),
  );
}

/** About what the metal is quoted at, in the unit of its price. */
export const usualPrice = ({ metal, price }: MetalTerms): number =>
  PRICES[metal]?.find(({ unit }) => unit === price.unit)?.price ?? 1;

function charges(
  bases: MassBasis[],
  units: MassUnit[],
  metals: MetalTerms[],
  scale: number,
  penalized: string,
): fc.Arbitrary<Charge[]> {
  const basis = fc.constantFrom(...bases);
  const unit = fc.constantFrom(...units);
  const name = { currency: fc.constant(null), name: fc.constantFrom('Treatment', 'Handling', 'Other') };
  const purpose = fc.constantFrom(
    'treatment' as const,
    'freight' as const,
    'sampling' as const,
    'representation' as const,
    'other' as const,
  );
  const money = decimalBetween(0, scale, 2);
  const escalators: fc.Arbitrary<Escalator[]> = fc
    .constantFrom(...metals)
    .chain((m) => fc.array(escalator(m.metal, Math.max(1, usualPrice(m))), { maxLength: 2 }));
  return fc.array(
    fc.oneof(
      fc
        .record({
          kind: fc.constant('per-mass' as const),
          purpose,
          ...name,
          rate: money,
          basis,
          unit,
          minimum: fc.option(decimalBetween(0, 500, 2)),
          escalators: scale > 10 ? escalators : fc.constant<Escalator[]>([]),
        })
        .map((charge): Charge => charge),
      fc
        .record({
          kind: fc.constant('flat' as const),
          purpose,
          ...name,
          amount: decimalBetween(0, 500, 2),
          per: fc.constantFrom('parcel' as const, 'piece' as const),
          onlyBelow: fc.option(fc.record({ basis, unit, mass: decimalBetween(0.1, 30, 1) })),
        })
        .map((charge): Charge => charge),
      fc
        .record({
          kind: fc.constant('per-started-lot' as const),
          purpose,
          ...name,
          amount: decimalBetween(0, 300, 2),
          basis,
          unit,
          mass: decimalBetween(1, 20, 1),
        })
        .map((charge): Charge => charge),
      fc
        .record({
          kind: fc.constant('by-value' as const),
          purpose,
          ...name,
          basis,
          unit,
          brackets: fc
            .tuple(rising(0, 3000, 0), fc.array(money, { minLength: 3, maxLength: 3 }))
            .map(([froms, rates]) => ({
              kind: 'bracket' as const,
              brackets: froms.map((from, i) => ({
                from,
                reachedAt: i % 2 === 0 ? ('level' as const) : ('above' as const),
                rate: rates[i] ?? '1',
              })),
            })),
        })
        .map((charge): Charge => charge),
      fc
        .record({
          kind: fc.constant('by-level' as const),
          purpose,
          ...name,
          basis,
          unit,
          minimum: fc.option(decimalBetween(0, 200, 2)),
          level: fc.oneof<fc.Arbitrary<ByLevelCharge['level']>[]>(
            fc.constant({ kind: 'grade' as const, elements: [penalized], unit: 'percent' as const }),
            fc
              .constantFrom(...metals.map((m) => m.metal))
              .map((metal) => ({ kind: 'price' as const, metal })),
            fc.record({ kind: fc.constant('mass' as const), basis, unit }),
          ),
          ladder: ladder(3, 2, '0.1', decimalBetween(0, scale / 100, 3)),
        })
        .map((charge): Charge => charge),
      fc
        .record({
          kind: fc.constant('share-of-value' as const),
          purpose: fc.constant('insurance' as const),
          ...name,
          shareFrac: decimalBetween(0, 0.02, 4),
          ofFrac: fc.constantFrom('1', '1.10'),
          minimum: fc.option(decimalBetween(0, 200, 2)),
        })
        .map((charge): Charge => charge),
    ),
    { maxLength: 5 },
  );
}

function royalties(metals: MetalTerms[]): fc.Arbitrary<Royalty[]> {
  const rateFrac = decimalBetween(0, 0.08, 4);
  const symbol = metals[0]?.metal ?? 'Au';
  return fc
    .array(
      fc.record({
        kind: fc.constantFrom('royalty' as const, 'production-tax' as const),
        base: fc.oneof(
          fc.constant({ kind: 'net-smelter-return' as const }),
          fc.constant({ kind: 'gross-value' as const }),
          fc.record({
            kind: fc.constant('own-price' as const),
            metals: fc.constantFrom(...metals).chain((m) =>
              fc
                .record({
                  metal: fc.constant(m.metal),
                  mass: fc.constantFrom('contained' as const, 'payable' as const),
                  price: fc.option(fc.constant(usualPrice(m).toFixed(2))),
                })
                .map((entry) => [entry]),
            ),
          }),
        ),
        rate: fc.oneof(
          rateFrac.map((frac) => ({ kind: 'flat' as const, rateFrac: frac })),
          fc.tuple(rising(0, 100_000, 0), rateFrac, rateFrac).map(([froms, a, b]) => ({
            kind: 'bands' as const,
            bands: froms.map((from, i) => ({ from, rateFrac: i % 2 === 0 ? a : b })),
          })),
          fc.tuple(rising(0, 3000, 0), rateFrac, rateFrac).map(([froms, a, b]) => ({
            kind: 'price-steps' as const,
            metal: symbol,
            steps: froms.map((from, i) => ({ from, rateFrac: i % 2 === 0 ? a : b })),
          })),
        ),
        exemption: fc.option(decimalBetween(0, 50_000, 0)),
        paidBy: fc.constantFrom('buyer-withholds' as const, 'seller-pays' as const),
        payees: fc.array(fc.record({ name: fc.constant('Owner'), share: decimalBetween(1, 60, 1) }), {
          maxLength: 3,
        }),
      }),
      { maxLength: 2 },
    )
    .map((all) => all.map((royalty, i) => ({ ...royalty, name: `Royalty ${i + 1}` })));
}

const taxes: fc.Arbitrary<TaxTerms[] | undefined> = fc.option(
  fc.array(
    fc.record({
      name: fc.constantFrom('Value added tax', 'Withholding tax'),
      rateFrac: decimalBetween(0, 0.25, 3),
      base: fc.oneof<fc.Arbitrary<TaxTerms['base']>[]>(
        fc.constant({ kind: 'payable-value' }),
        fc.constant({ kind: 'net-value' }),
        fc.constant({ kind: 'charges', purposes: [] }),
        fc.constant({ kind: 'charges', purposes: ['refining', 'treatment', 'freight'] }),
      ),
      effect: fc.constantFrom('added' as const, 'deducted' as const),
      isPassedOn: fc.boolean(),
    }),
    { minLength: 1, maxLength: 2 },
  ),
  { nil: undefined },
);

function assayRules(elements: string[], grades: typeof GRADES): fc.Arbitrary<AssayRule[]> {
  return fc.tuple(
    ...elements.map((element) =>
      fc.constantFrom(...(grades[element] ?? [])).chain(({ unit, high, decimals }) =>
        fc.record({
          element: fc.constant(element),
          unit: fc.constant(unit),
          rounding: roundingTo(decimals, decimals + 2),
          settledBy: fc.oneof(
            fc.constantFrom<AssayRule['settledBy'][]>(
              { kind: 'seller' },
              { kind: 'buyer' },
              { kind: 'mean' },
            ),
            fc.record({
              kind: fc.constant('exchange' as const),
              splittingLimits: fc
                .tuple(
                  decimalBetween(0, high / 50, decimals),
                  fc.option(decimalBetween(0.01, 0.1, 2), { nil: undefined }),
                )
                .map(([limit, relativeFrac]) => [{ fromGrade: '0', limit, relativeFrac }]),
              umpire: fc.record({
                rule: fc.constantFrom(
                  'middle-of-three' as const,
                  'mean-of-nearest-two' as const,
                  'mean-of-umpire-and-nearer' as const,
                  'nearer-party' as const,
                ),
                cost: fc.option(decimalBetween(50, 300, 2)),
                costBorneBy: fc.constantFrom(
                  'further-party' as const,
                  'shared' as const,
                  'seller' as const,
                  'buyer' as const,
                ),
                advancedBy: fc.constantFrom('seller' as const, 'buyer' as const),
              }),
              absentPartyBound: fc.boolean(),
            }),
          ),
        }),
      ),
    ),
  );
}

function onElements(
  elements: string[],
  unit: GradeUnit,
  high: number,
  step: string,
  bases: MassBasis[],
  massUnit: MassUnit,
  rate: number,
): fc.Arbitrary<Omit<Penalty, 'refusedAbove'>> {
  return fc.record({
    name: fc.constant(`On ${elements.join(' and ')}`),
    elements: fc.constant(elements),
    unit: fc.constant(unit),
    ladder: ladder(high, 2, step, decimalBetween(0, rate, 2)),
    basis: fc.constantFrom(...bases),
    massUnit: fc.constant(massUnit),
  });
}

const assayUnitHigh = (rule: AssayRule, grades: typeof GRADES) =>
  (grades[rule.element] ?? []).find((g) => g.unit === rule.unit) ?? { unit: rule.unit, high: 1, decimals: 2 };

const commonParts = {
  direction: fc.constantFrom('we-sell' as const, 'we-buy' as const, 'we-toll' as const),
  minimumCharges: fc.option(decimalBetween(0, 2000, 2)),
  provisional: fc.record({
    shareFrac: fc.constantFrom('0.75', '0.85', '0.9'),
    of: fc.constantFrom('net-value' as const, 'payable-value' as const),
  }),
  secondProvisional: fc.record({
    shareFrac: fc.constantFrom('0.9', '0.95'),
    of: fc.constantFrom('net-value' as const, 'payable-value' as const),
  }),
};

/** Contracts for concentrate of every kind of clause, without contradictions. */
export const concentrateTerms: fc.Arbitrary<Terms> = fc
  .record({
    symbols: fc.subarray(['Au', 'Ag', 'Pb', 'Cu'], { minLength: 1 }),
    perTonne: fc.boolean(),
    tonneUnit: fc.constantFrom<MassUnit[]>('tonne', 'short ton'),
    totalPerTonne: fc.boolean(),
    weightUnit: fc.constantFrom<MassUnit[]>('kg', 'tonne', 'lb', 'short ton'),
    franchiseFrac: fc.constantFrom('0', '0.005', '0.02'),
    tollShareFrac: fc.constantFrom('0', '0', '0.1'),
    ...commonParts,
  })
  .chain((start) => {
    const bases: MassBasis[] = ['gross', 'wet', 'moisture', 'dry', 'settlement'];
    return assayRules([...start.symbols, 'As', 'Sb', 'Hg'], GRADES).chain((assays) =>
      fc
        .tuple(
          ...start.symbols.map((symbol) => {
            const rule = assays.find((r) => r.element === symbol) as AssayRule;
            const order = start.perTonne
              ? fc.constant('grade' as const)
              : fc.constantFrom('grade' as const, 'content' as const);
            return metalTerms(symbol, assayUnitHigh(rule, GRADES), order, false);
          }),
        )
        .chain((metals) =>
          fc
            .record({
              charges: charges(bases, ['tonne', 'kg', 'short ton', 'long ton', 'lb'], metals, 300, 'As'),
              penalties: fc.tuple(
                onElements(['As', 'Sb'], 'percent', 3, '0.1', bases, 'tonne', 5),
                onElements(['Hg'], 'ppm', 150, '10', bases, 'short ton', 3),
                onElements(['H2O'], 'percent', 15, '1', ['wet'], 'tonne', 2),
              ),
              credits: fc.array(
                fc.oneof<fc.Arbitrary<Credit>[]>(
                  onElements(['Sb'], 'percent', 3, '0.1', bases, 'tonne', 5).map((c) => ({
                    ...c,
                    kind: 'component',
                  })),
                  fc.record({
                    kind: fc.constant('per-mass' as const),
                    name: fc.constant('Bonus'),
                    rate: decimalBetween(0, 20, 2),
                    basis: fc.constantFrom(...bases),
                    massUnit: fc.constant('tonne' as const),
                  }),
                  fc.record({
                    kind: fc.constant('assay-value' as const),
                    name: fc.constant('Share of value'),
                    metals: fc.constant(metals.map((m) => m.metal)),
                    above: decimalBetween(0, 2000, 0),
                    shareFrac: decimalBetween(0, 0.2, 2),
                    massUnit: fc.constant('tonne' as const),
                  }),
                ),
                { maxLength: 3 },
              ),
              royalties: royalties(metals),
              taxes,
              rounding: fc.record({
                mass: roundingTo(0, 4),
                moisture: roundingTo(1, 3),
                payableGrade: roundingTo(3, 6),
                payableMetal: roundingTo(2, 5),
                price: roundingTo(3, 6),
                perTonneValue: roundingTo(2, 6),
                money: roundingTo(2, 3),
              }),
            })
            .map((parts): Terms => ({
              ...startingTerms({ title: 'A generated contract', material: 'concentrate' }),
              direction: start.direction,
              factors: STANDARD_FACTORS,
              weights: { kind: 'dry', unit: start.weightUnit, franchiseFrac: start.franchiseFrac },
              valuation: start.perTonne
                ? { kind: 'per-tonne', unit: start.tonneUnit, totalPerTonne: start.totalPerTonne }
                : { kind: 'payable-metal' },
              tollShareFrac: start.tollShareFrac,
              minimumCharges: start.minimumCharges,
              provisional: start.provisional,
              secondProvisional: start.secondProvisional,
              assays,
              metals,
              ...parts,
              penalties: parts.penalties.map((p) => ({ ...p, refusedAbove: null })),
              rounding: {
                ...parts.rounding,
                // Masses in tonnes or short tons need decimals that kilograms do not.
                mass: {
                  ...parts.rounding.mass,
                  decimals:
                    parts.rounding.mass.decimals +
                    (start.weightUnit === 'kg' || start.weightUnit === 'lb' ? 0 : 3),
                },
              },
            })),
        ),
    );
  });

/** Contracts for bars. */
export const doreTerms: fc.Arbitrary<Terms> = fc
  .record({
    symbols: fc.subarray(['Au', 'Ag'], { minLength: 1 }),
    unit: fc.constantFrom<MassUnit[]>('ozt', 'g', 'kg'),
    massOfRecord: fc.constantFrom('after-melting' as const, 'received' as const),
    ...commonParts,
  })
  .chain((start) =>
    assayRules([...start.symbols, 'Pb'], DORE_GRADES).chain((assays) =>
      fc
        .tuple(
          ...start.symbols.map((symbol) => {
            const rule = assays.find((r) => r.element === symbol) as AssayRule;
            const order = fc.constantFrom('grade' as const, 'content' as const);
            return metalTerms(symbol, assayUnitHigh(rule, DORE_GRADES), order, true);
          }),
        )
        .chain((metals) =>
          fc
            .record({
              charges: charges(['received', 'settlement'], ['ozt', 'g', 'kg'], metals, 2, 'Pb'),
              penalties: fc.tuple(
                onElements(['Pb'], 'percent', 4, '1', ['settlement', 'received'], 'ozt', 0.5),
              ),
              royalties: royalties(metals),
              taxes,
              rounding: fc.record({
                mass: fc.oneof(
                  roundingTo(2, 4),
                  fc.constant({ decimals: 3, rule: 'truncate' as const, multipleOf: '0.025' }),
                ),
                moisture: roundingTo(1, 3),
                payableGrade: roundingTo(3, 6),
                payableMetal: roundingTo(2, 5),
                price: roundingTo(3, 6),
                perTonneValue: roundingTo(3, 6),
                money: roundingTo(2, 3),
              }),
            })
            .map((parts): Terms => ({
              ...startingTerms({ title: 'A generated contract', material: 'dore' }),
              direction: start.direction,
              weights: {
                kind: 'melt',
                unit: start.unit,
                massOfRecord: start.massOfRecord,
                meltLossLimitFrac: null,
              },
              minimumCharges: start.minimumCharges,
              provisional: start.provisional,
              secondProvisional: start.secondProvisional,
              assays,
              metals,
              ...parts,
              penalties: parts.penalties.map((p) => ({ ...p, refusedAbove: null })),
            })),
        ),
    ),
  );

/** What a parcel of some grade may assay, in the unit of its rule. */
export function assayFor(
  rule: AssayRule,
  dore: boolean,
): fc.Arbitrary<{ own: string; buyer: string; umpire: string }> {
  const { high, decimals } = assayUnitHigh(rule, dore ? DORE_GRADES : GRADES);
  // Bars cannot hold more than a thousand parts together: half for each metal.
  const most = dore && rule.unit === 'fineness' ? high / 2 : high;
  return decimalBetween(0, most, decimals).chain((own) => {
    const near = () =>
      decimalBetween(Number(own) * 0.95, Math.min(most, Number(own) * 1.05 + 10 ** -decimals), decimals);
    return fc.record({ own: fc.constant(own), buyer: near(), umpire: near() });
  });
}
