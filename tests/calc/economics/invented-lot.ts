import type {
  DecideInput,
  Estimate,
  InHouseOption,
  SaleOption,
} from '../../../api/calc/economics/options.ts';
import type { LotDraws } from '../../../api/calc/evidence/lot-evidence.ts';
import { createRandom } from '../../../api/calc/random.ts';

const GRAMS_PER_OZT = 31.1034768;

/** Invented terms: a share of gold and silver, a charge per dry tonne. */
export function simpleTerms(payable: { gold: number; silver: number; perDryTonne: number }): Estimate {
  return ({ dryMassKg, assays, prices }) => {
    const ozt = (gpt: number) => ((dryMassKg / 1000) * gpt) / GRAMS_PER_OZT;
    const goldPayableOzt = payable.gold * ozt(assays.Au ?? 0);
    const silverPayableOzt = payable.silver * ozt(assays.Ag ?? 0);
    const paymentValue = goldPayableOzt * (prices.Au ?? 0) + silverPayableOzt * (prices.Ag ?? 0);
    const deductionsValue = (dryMassKg / 1000) * payable.perDryTonne;
    return {
      goldPayableOzt,
      silverPayableOzt,
      paymentValue,
      deductionsValue,
      netValue: paymentValue - deductionsValue,
      refused: false,
    };
  };
}

export function drawsOf(
  drawCount: number,
  make: (n: number) => { Au: number; Ag: number; recovery: Record<string, number> },
): LotDraws {
  const draws: LotDraws = {
    drawCount,
    seed: 0,
    gradeGpt: { Au: new Float64Array(drawCount), Ag: new Float64Array(drawCount) },
    recoveryFrac: {},
    replicateSdFrac: {
      Au: new Float64Array(drawCount).fill(0.08),
      Ag: new Float64Array(drawCount).fill(0.05),
    },
  };
  for (let n = 0; n < drawCount; n++) {
    const { Au, Ag, recovery } = make(n);
    draws.gradeGpt.Au[n] = Au;
    draws.gradeGpt.Ag[n] = Ag;
    for (const [id, frac] of Object.entries(recovery)) {
      const arrays = (draws.recoveryFrac[id] ??= {
        Au: new Float64Array(drawCount),
        Ag: new Float64Array(drawCount),
      });
      arrays.Au[n] = frac;
      arrays.Ag[n] = frac;
    }
  }
  return draws;
}

export function inHouse(id: string, treatmentId: string, parts: Partial<InHouseOption> = {}): InHouseOption {
  return {
    kind: 'in-house',
    id,
    name: id,
    treatmentId,
    estimate: simpleTerms({ gold: 0.98, silver: 0.9, perDryTonne: 0 }),
    doreFinenessFrac: 0.9,
    chargeSizeKg: 5,
    reagentCostPerKg: 2,
    lead: {
      inKgPerKg: 0.4,
      returnFrac: { low: 0.6, mode: 0.75, high: 0.9 },
      buyPricePerKg: 3,
      recoveredValuePerKg: 2,
    },
    crucibleCostPerCharge: 12,
    furnaceHoursPerCharge: { low: 1, mode: 1.5, high: 2.5 },
    labourHoursPerCharge: { low: 1.5, mode: 2, high: 4 },
    fuelCostPerFurnaceHour: 8,
    wagePerHour: 25,
    wasteCostPerKg: 0.3,
    fixedCosts: [{ label: 'Assays and shipping', amount: 150 }],
    horizonDays: 20,
    daysUntilCash: 25,
    ...parts,
  };
}

export function sale(id: string, parts: Partial<SaleOption> = {}): SaleOption {
  return {
    kind: 'sale',
    id,
    name: id,
    estimate: simpleTerms({ gold: 0.65, silver: 0.6, perDryTonne: 400 }),
    moistureFrac: 0.08,
    otherAssays: { As: 0.004 },
    buyerAssayRelativeSd: 0.03,
    freightCostPerWetTonne: 180,
    fixedCosts: [{ label: 'Assays', amount: 120 }],
    horizonDays: 60,
    daysUntilCash: 75,
    ...parts,
  };
}

/** An invented lot of 100 kg: about 2,000 g/t gold, 400 g/t silver, two treatments. */
export function inventedLot(parts: Partial<DecideInput> = {}, drawCount = 4000): DecideInput {
  const random = createRandom(3, 'invented');
  const draws = drawsOf(drawCount, () => ({
    Au: random.lognormal({ median: 2000, sdLog: 0.1 }),
    Ag: random.lognormal({ median: 400, sdLog: 0.15 }),
    recovery: {
      plain: random.triangular({ low: 0.6, mode: 0.75, high: 0.9 }),
      roast: random.triangular({ low: 0.75, mode: 0.9, high: 0.98 }),
    },
  }));
  return {
    lotDryMassKg: 100,
    draws,
    options: [
      inHouse('Smelt as it is', 'plain'),
      inHouse('Roast first', 'roast', { reagentCostPerKg: 3 }),
      sale('Sell'),
    ],
    prices: {
      Au: { spot: 2000, annualVolatilityFrac: 0.15 },
      Ag: { spot: 25, annualVolatilityFrac: 0.3 },
    },
    currency: 'USD',
    seed: 1,
    ...parts,
  };
}
