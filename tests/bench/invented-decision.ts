import { refinerTerms, smelterTerms, traderTerms } from '../../api/demo/invented-terms.ts';
import type {
  DecideInput,
  DecisionOption,
  Estimate,
  InHouseOption,
} from '../../api/calc/economics/options.ts';
import type { LotDraws } from '../../api/calc/evidence/lot-evidence.ts';
import { createRandom } from '../../api/calc/random.ts';
import { compileEstimate } from '../../api/calc/terms/estimate.ts';
import { compileEstimateDraws } from '../../api/calc/terms/estimate-draws.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';

/** The invented refiner's contract with another share paid, charge and minimum. */
function refiner(paidFrac: string, rate: string, minimum: string): Terms {
  return {
    ...refinerTerms,
    metals: refinerTerms.metals.map((metal) =>
      metal.metal === 'Au'
        ? { ...metal, form: { kind: 'percent-then-unit', paidFrac, deduction: '0' } }
        : metal,
    ),
    charges: refinerTerms.charges.map((charge) =>
      charge.kind === 'per-mass' ? { ...charge, rate, minimum } : charge,
    ),
  };
}

/** Three refiners for the bars of every treatment, and two buyers of the concentrate as it is. */
export const REFINERS = [refinerTerms, refiner('0.995', '1.6', '220'), refiner('0.985', '0.6', '90')];
export const BUYERS = [smelterTerms, traderTerms];

type Treatment = Omit<InHouseOption, 'kind' | 'id' | 'name' | 'treatmentId' | 'estimate'>;

/** Eight invented treatments, from plain to thorough: what is recovered more costs more. */
export const TREATMENTS: (Treatment & { recovery: { low: number; mode: number; high: number } })[] =
  Array.from({ length: 8 }, (_, t) => ({
    recovery: { low: 0.85 + 0.013 * t, mode: 0.9 + 0.0092 * t, high: 0.94 + 0.005 * t },
    doreFinenessFrac: 0.93,
    chargeSizeKg: 20,
    reagentCostPerKg: { low: 0.8 + 0.05 * t, mode: 1 + 0.07 * t, high: 1.4 + 0.1 * t },
    lead: {
      inKgPerKg: 0.4,
      returnFrac: { low: 0.7, mode: 0.82, high: 0.92 },
      buyPricePerKg: 3.1,
      recoveredValuePerKg: 3.1,
    },
    crucibleCostPerCharge: 18,
    furnaceHoursPerCharge: { low: 1.1, mode: 1.5, high: 2.4 },
    labourHoursPerCharge: { low: 1.2 + 0.07 * t, mode: 1.6 + 0.1 * t, high: 2.8 + 0.13 * t },
    fuelCostPerFurnaceHour: 7.6,
    wagePerHour: 26,
    wasteCostPerKg: 0.15,
    fixedCosts: [{ label: 'Assays and carriage', amount: 140 }],
    horizonDays: 22,
    daysUntilCash: 26,
  }));

export const LOT = {
  dryMassKg: 600,
  otherAssays: { As: 0.0094 },
  moistureFrac: 0.085,
  buyerAssayRelativeSd: 0.03,
  saleDays: [60, 20],
};
export const PRICES = {
  Au: { spot: 2400, annualVolatilityFrac: 0.15 },
  Ag: { spot: 29, annualVolatilityFrac: 0.3 },
};

/** The joint draws of an invented lot; not part of what is timed. */
export function lotDraws(drawCount: number): LotDraws {
  const random = createRandom(3, 'bench');
  const column = (value: () => number): Float64Array => Float64Array.from({ length: drawCount }, value);
  return {
    drawCount,
    seed: 0,
    gradeGpt: {
      Au: column(() => random.lognormal({ median: 900, sdLog: 0.06 })),
      Ag: column(() => random.lognormal({ median: 3000, sdLog: 0.05 })),
    },
    recoveryFrac: Object.fromEntries(
      TREATMENTS.map(({ recovery }, t) => [
        `treatment-${t}`,
        { Au: column(() => random.triangular(recovery)), Ag: column(() => random.triangular(recovery)) },
      ]),
    ),
    replicateSdFrac: {
      Au: new Float64Array(drawCount).fill(0.08),
      Ag: new Float64Array(drawCount).fill(0.05),
    },
  };
}

/** A contract for one parcel and for all draws, as a lot's options have it. */
function compiled(terms: Terms): Estimate {
  return Object.assign(compileEstimate(terms), { draws: compileEstimateDraws(terms) });
}

/** 8 treatments × 3 refiners and 2 sales, under compiled contracts. */
export function inventedDecision(draws: LotDraws): DecideInput {
  const options: DecisionOption[] = TREATMENTS.flatMap(({ recovery: _recovery, ...treatment }, t) =>
    REFINERS.map((terms, r) => ({
      ...treatment,
      kind: 'in-house' as const,
      id: `treatment-${t}/refiner-${r}`,
      name: `Treatment ${t}, doré to refiner ${r}`,
      treatmentId: `treatment-${t}`,
      estimate: compiled(terms),
    })),
  );
  for (const [b, terms] of BUYERS.entries())
    options.push({
      kind: 'sale',
      id: `sale-${b}`,
      name: `Sell to buyer ${b}`,
      estimate: compiled(terms),
      moistureFrac: LOT.moistureFrac,
      otherAssays: LOT.otherAssays,
      buyerAssayRelativeSd: LOT.buyerAssayRelativeSd,
      freightCostPerWetTonne: 0,
      fixedCosts: [],
      horizonDays: LOT.saleDays[b]!,
      daysUntilCash: LOT.saleDays[b]!,
    });
  return { lotDryMassKg: LOT.dryMassKg, draws, options, prices: PRICES, currency: 'USD', seed: 1 };
}

/** The best option, and the best that is worked or sold in another way: what break-evens and drivers are between. */
export function bestTwo(ranked: readonly { id: string }[]): [string, string] {
  const way = (id: string): string => id.split('/')[0]!;
  const first = ranked[0]!.id;
  return [first, ranked.find(({ id }) => way(id) !== way(first))!.id];
}

const byMetal = (terms: Terms) =>
  Object.fromEntries(
    terms.metals.map(({ metal, form, minimumGrade, refining }) => [
      metal,
      { form, minimumGrade: minimumGrade ?? '0', refining: refining?.rate ?? '0' },
    ]),
  );

const chargesOf = (terms: Terms) =>
  terms.charges.map((charge) => {
    if (charge.kind === 'per-mass') return charge;
    if (charge.kind === 'flat') return { ...charge, onlyBelow: charge.onlyBelow?.mass ?? null };
    throw new Error(`the bench's model in numpy has no charge ${charge.kind}`);
  });

/** The same model for the numpy program: plain figures, and the contracts' clauses that it has to know. */
export function modelForNumpy({
  drawCount,
  drawsFile,
  repeats,
}: {
  drawCount: number;
  drawsFile: string;
  repeats: number;
}) {
  return {
    drawCount,
    drawsFile,
    repeats,
    lotDryMassKg: LOT.dryMassKg,
    prices: PRICES,
    treatments: TREATMENTS,
    refiners: REFINERS.map((terms) => ({ metals: byMetal(terms), charges: chargesOf(terms) })),
    buyers: BUYERS.map((terms) => ({
      metals: byMetal(terms),
      charges: chargesOf(terms),
      franchiseFrac: terms.weights.kind === 'dry' ? terms.weights.franchiseFrac : '0',
      penalties: terms.penalties.map(({ ladder }) => {
        if (ladder.kind !== 'marginal')
          throw new Error('the bench’s model in numpy has marginal penalties only');
        const [band] = ladder.bands;
        return {
          counting: ladder.counting,
          from: Number(band!.from),
          step: Number(band!.step),
          rate: Number(band!.rate),
        };
      }),
    })),
    sales: BUYERS.map((_, b) => ({
      moistureFrac: LOT.moistureFrac,
      otherAssays: LOT.otherAssays,
      buyerAssayRelativeSd: LOT.buyerAssayRelativeSd,
      horizonDays: LOT.saleDays[b],
      fixedCosts: [],
    })),
  };
}

/** The columns of the lot in the order in which the numpy program reads them. */
export function columnsForNumpy(draws: LotDraws): Float64Array[] {
  return [
    draws.gradeGpt.Au,
    draws.gradeGpt.Ag,
    ...TREATMENTS.flatMap((_, t) => {
      const { Au, Ag } = draws.recoveryFrac[`treatment-${t}`]!;
      return [Au, Ag];
    }),
  ];
}
