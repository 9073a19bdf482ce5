import { Dec, type DecimalNumber } from '../money.ts';
import { halfUp, roundedText } from '../rounding.ts';

/** What a batch's net value is made of, as it was foreseen or as it came. */
export interface BatchValue {
  dryMassKg: number;
  metals: {
    metal: 'Au' | 'Ag';
    gradeGpt: number;
    /** Of the metal in the mass: into the bar, or into the parcel that is paid (then 1). */
    recoveryFrac: number;
    /** What the buyer pays for a gram recovered after all deductions and charges, in the mill's currency. */
    valuePerG: number;
  }[];
  /** What the metals do not explain: charges by the lot, penalties, credits; below zero where it is owed. */
  otherValue: number;
  cost: number;
}

/** Decimal texts in the mill's currency that add up to `total` exactly. */
export interface ForecastSplit {
  massEffect: string;
  gradeEffect: string;
  recoveryEffect: string;
  priceEffect: string;
  costEffect: string;
  otherEffect: string;
  /** Actual net value less the forecast. */
  total: string;
}

/**
 * Why a batch brought more or less than its forecast: mass, grade, recovery, price (with the buyer's terms), cost.
 *
 * net value = Σ over metals of mass [kg] × grade [g/t] / 1000 × recovery × value per gram + other − cost. What came
 * replaces what was foreseen one after the other in that order, so an effect includes what it does together with
 * those replaced before it. Every state is rounded to the cent, halves up; the effects add up to the difference.
 * A metal that is missing on one side counts there as nothing.
 * Source: common practice (variance analysis by successive substitution).
 */
export function splitForecast({
  forecast,
  actual,
}: {
  forecast: BatchValue;
  actual: BatchValue;
}): ForecastSplit {
  const metals = [...new Set([...forecast.metals, ...actual.metals].map(({ metal }) => metal))];
  const values: DecimalNumber[] = [];
  for (let replaced = 0; replaced <= 6; replaced += 1) {
    const from = (place: number): BatchValue => (replaced >= place ? actual : forecast);
    let net = from(6).otherValue - from(5).cost;
    for (const metal of metals) {
      const of = (value: BatchValue) => value.metals.find((one) => one.metal === metal);
      const metalG = (from(1).dryMassKg * (of(from(2))?.gradeGpt ?? 0)) / 1000;
      net += metalG * (of(from(3))?.recoveryFrac ?? 0) * (of(from(4))?.valuePerG ?? 0);
    }
    values.push(new Dec(roundedText(new Dec(net), halfUp(2))));
  }
  const step = (place: number): string =>
    roundedText((values[place] ?? new Dec(0)).minus(values[place - 1] ?? 0), halfUp(2));
  return {
    massEffect: step(1),
    gradeEffect: step(2),
    recoveryEffect: step(3),
    priceEffect: step(4),
    costEffect: step(5),
    otherEffect: step(6),
    total: roundedText((values[6] ?? new Dec(0)).minus(values[0] ?? 0), halfUp(2)),
  };
}
