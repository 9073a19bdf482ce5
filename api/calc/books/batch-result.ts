import type { Metal } from '../evidence/lot-evidence.ts';
import { METALS } from '../evidence/lot-evidence.ts';
import type { Measured } from '../measured.ts';
import { exactly, quotient, sum } from '../measured.ts';
import { sumOf } from '../money.ts';
import { containedMetalG } from '../production/contained-metal.ts';
import type { Settlement } from '../settlement/statement.ts';
import { splitForecast, type BatchValue, type ForecastSplit } from './split-forecast.ts';

/** What a frozen forecast took of each metal, on average; null where nothing spoke of it. */
export type ForecastBasis = Record<
  Metal,
  { gradeGpt: number; recoveryFrac: number; recoverySdFrac: number; pricePerOzt: number } | null
>;

/** Means of a frozen forecast, in the mill's currency. */
export interface ForecastMeans {
  dryMassKg: number;
  netValue: number;
  payableOzt: Record<Metal, number>;
  /** Of all metals together, before charges. */
  metalPayment: number;
  /** Positive. */
  cost: number;
  basis: ForecastBasis;
}

/** What a batch has given, as far as it is known. */
export interface BatchOutcome {
  isSale: boolean;
  /** Taken out of the lot. */
  dryMassKg: number;
  lotScaleUncertaintyFrac: number;
  /** The lot's grade by all tests and assays as they stand; null where nothing speaks of it. */
  gradeGpt: Record<Metal, Measured | null>;
  /** Bars, beads and buttons, or the parcel, by their assays; null where one of them has none. */
  outG: Record<Metal, Measured | null>;
  /** Dry mass of the parcels sold; null where nothing was sold as it is. */
  parcelDryKg: number | null;
  cost: number;
  /** By the newest statement of each product; null while nothing is settled. In the mill's currency. */
  settled: { total: number; metalValue: Record<Metal, number> } | null;
}

/** Metal that went into a batch and came out of it, and the share that did, with standard uncertainties. */
export function batchRecovery(
  outcome: BatchOutcome,
): Record<Metal, { inG: Measured | null; outG: Measured | null; recoveryFrac: Measured | null }> {
  const mass = { value: outcome.dryMassKg, u: outcome.lotScaleUncertaintyFrac * outcome.dryMassKg };
  const of = (metal: Metal) => {
    const inG = containedMetalG(mass, outcome.gradeGpt[metal]);
    const outG = outcome.outG[metal];
    const known = inG !== null && outG !== null && inG.value > 0 && !outcome.isSale;
    return { inG, outG, recoveryFrac: known ? quotient(outG, inG) : null };
  };
  return { Au: of('Au'), Ag: of('Ag') };
}

/** Adds what is known, and is null where one of them is not. */
export function allOrNone(amounts: readonly (Measured | null)[]): Measured | null {
  const known = amounts.filter((one) => one !== null);
  if (known.length < amounts.length || amounts.length === 0) return null;
  return known.length === 0 ? exactly(0) : sum(...known);
}

/** Money that a settlement gives for one metal before charges, in its currency. */
export function metalValueOf(settlement: Settlement, metal: Metal): number {
  return sumOf(
    settlement.lines.flatMap(({ id, section, amount }) =>
      section === 'payable' &&
      amount !== null &&
      (id === `payable/${metal}` || id.startsWith(`payable/${metal}/`))
        ? [amount]
        : [],
    ),
  ).toNumber();
}

/** The forecast as value of mass × grade × recovery × value per gram + the rest − cost: it comes to its mean. */
function forecastValue(forecast: ForecastMeans): BatchValue {
  const worth = (metal: Metal): number =>
    forecast.payableOzt[metal] * (forecast.basis[metal]?.pricePerOzt ?? 0);
  const whole = worth('Au') + worth('Ag');
  const metals = METALS.flatMap((metal): BatchValue['metals'] => {
    const basis = forecast.basis[metal];
    if (basis === null || whole <= 0) return [];
    const recoveredG = (forecast.dryMassKg * basis.gradeGpt * basis.recoveryFrac) / 1000;
    if (!(recoveredG > 0)) return [];
    return [
      {
        metal,
        gradeGpt: basis.gradeGpt,
        recoveryFrac: basis.recoveryFrac,
        valuePerG: (forecast.metalPayment * (worth(metal) / whole)) / recoveredG,
      },
    ];
  });
  const paid = metals.length === 0 ? 0 : forecast.metalPayment;
  return {
    dryMassKg: forecast.dryMassKg,
    metals,
    otherValue: forecast.netValue + forecast.cost - paid,
    cost: forecast.cost,
  };
}

/**
 * Why a settled batch brought more or less than its forecast's mean: mass, grade, recovery, price, cost and the rest
 * (charges, penalties, credits). The grade is the lot's as all tests and assays now say; of a parcel with an assay of
 * its own, the parcel's. Null while nothing is settled, or where grade or recovery is not known.
 */
export function explainedDifference(forecast: ForecastMeans, outcome: BatchOutcome): ForecastSplit | null {
  const { settled, isSale, parcelDryKg } = outcome;
  if (settled === null) return null;
  const dryMassKg = isSale ? (parcelDryKg ?? outcome.dryMassKg) : outcome.dryMassKg;
  const recoveries = batchRecovery(outcome);
  const metals: BatchValue['metals'] = [];
  for (const metal of METALS) {
    const metalValue = settled.metalValue[metal];
    const soldG = outcome.outG[metal]?.value ?? null;
    const lotGradeGpt = outcome.gradeGpt[metal]?.value ?? null;
    const gradeGpt = isSale && soldG !== null ? (1000 * soldG) / dryMassKg : lotGradeGpt;
    const recoveryFrac = isSale ? 1 : (recoveries[metal].recoveryFrac?.value ?? null);
    if (gradeGpt === null || recoveryFrac === null) {
      if (metalValue !== 0) return null;
      continue;
    }
    const recoveredG = (dryMassKg * gradeGpt * recoveryFrac) / 1000;
    if (recoveredG > 0) metals.push({ metal, gradeGpt, recoveryFrac, valuePerG: metalValue / recoveredG });
  }
  const paid = METALS.reduce(
    (all, metal) => all + (metals.some((one) => one.metal === metal) ? settled.metalValue[metal] : 0),
    0,
  );
  return splitForecast({
    forecast: forecastValue(forecast),
    actual: { dryMassKg, metals, otherValue: settled.total - paid, cost: outcome.cost },
  });
}
