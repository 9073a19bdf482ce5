import type { Metal } from '../evidence/lot-evidence.ts';
import { METAL_NAMES, METALS } from '../evidence/lot-evidence.ts';
import { meanOfDraws } from '../statistics/draws.ts';
import { gptPerOzPerShortTon, gramsPerPound } from '../units.ts';
import type { Amount, DecideInput, DecisionOption, Estimate, InHouseOption } from './options.ts';

/** One thing that may be other than assumed, and the decision as it would be then. */
export interface WhatIf {
  id: string;
  label: string;
  unit: string;
  /** `costs`: the buyers' payments stay as they are and need not be worked out again. */
  changes: 'costs' | 'payments';
  /** The parameter as assumed, and the range to search. */
  today: number;
  low: number;
  high: number;
  /** The parameter in the unit shown. */
  shown: (parameter: number) => number;
  apply: (input: DecideInput, parameter: number) => DecideInput;
}

function times(values: Float64Array, factor: number): Float64Array {
  const scaled = new Float64Array(values.length);
  for (let n = 0; n < scaled.length; n++) scaled[n] = factor * values[n]!;
  return scaled;
}

function scaledAmount(amount: Amount, factor: number): Amount {
  if (typeof amount === 'number') return amount * factor;
  return { low: amount.low * factor, mode: amount.mode * factor, high: amount.high * factor };
}

const middle = (amount: Amount) =>
  typeof amount === 'number' ? amount : (amount.low + amount.mode + amount.high) / 3;

function withOptions(input: DecideInput, change: (option: DecisionOption) => DecisionOption): DecideInput {
  return { ...input, options: input.options.map(change) };
}

/** A what-if on a factor that multiplies `value`, shown as the value itself. */
function scaling(
  parts: Pick<WhatIf, 'id' | 'label' | 'unit' | 'changes' | 'apply'>,
  value: number,
  [low, high]: [number, number],
): WhatIf[] {
  return value > 0 ? [{ ...parts, today: 1, low, high, shown: (factor) => factor * value }] : [];
}

function priceWhatIfs(input: DecideInput): WhatIf[] {
  return METALS.flatMap((metal) =>
    scaling(
      {
        id: `price/${metal}`,
        label: `the ${METAL_NAMES[metal]} price`,
        unit: `${input.currency} per ${input.prices[metal].perUnit ?? 'troy ounce'}`,
        changes: 'payments',
        apply: (base, factor) => {
          const price = { ...base.prices[metal], spot: base.prices[metal].spot * factor };
          return { ...base, prices: { ...base.prices, [metal]: price } };
        },
      },
      input.prices[metal].spot,
      [0.3, 3],
    ),
  );
}

function gradeWhatIfs(input: DecideInput): WhatIf[] {
  const unit = input.units?.gradeUnit ?? 'g/t';
  const perUnitGpt = unit === 'oz/short ton' ? gptPerOzPerShortTon : 1;
  return METALS.flatMap((metal) =>
    scaling(
      {
        id: `grade/${metal}`,
        label: `the true ${METAL_NAMES[metal]} grade`,
        unit,
        changes: 'payments',
        apply: (base, factor) => {
          const gradeGpt = {
            ...base.draws.gradeGpt,
            [metal]: times(base.draws.gradeGpt[metal], factor),
          };
          return { ...base, draws: { ...base.draws, gradeGpt } };
        },
      },
      meanOfDraws(input.draws.gradeGpt[metal]) / perUnitGpt,
      [0.2, 5],
    ),
  );
}

/** Odds of recovery multiplied by e^shift, so that no draw leaves 0…1. */
function shifted(recoveryFrac: Float64Array, shift: number): Float64Array {
  const odds = Math.exp(shift);
  const moved = new Float64Array(recoveryFrac.length);
  for (let n = 0; n < moved.length; n++) {
    const raised = odds * recoveryFrac[n]!;
    moved[n] = raised / (1 - recoveryFrac[n]! + raised);
  }
  return moved;
}

function recoveryWhatIf(input: DecideInput, { name, treatmentId }: InHouseOption, metal: Metal): WhatIf {
  const before = input.draws.recoveryFrac[treatmentId]![metal];
  return {
    id: `recovery/${treatmentId}/${metal}`,
    label: `the ${METAL_NAMES[metal]} recovery of “${name}”`,
    unit: '%',
    changes: 'payments',
    today: 0,
    low: -3,
    high: 3,
    shown: (shift) => 100 * meanOfDraws(shifted(before, shift)),
    apply: (base, shift) => {
      const treatment = { ...base.draws.recoveryFrac[treatmentId]!, [metal]: shifted(before, shift) };
      const recoveryFrac = { ...base.draws.recoveryFrac, [treatmentId]: treatment };
      return { ...base, draws: { ...base.draws, recoveryFrac } };
    },
  };
}

function inHouseWhatIfs(input: DecideInput, option: InHouseOption): WhatIf[] {
  const perKg = `${input.currency} per kg`;
  const cost = (
    field: string,
    label: string,
    unit: string,
    value: number,
    change: (factor: number) => Partial<InHouseOption>,
  ) =>
    scaling(
      {
        id: `${field}/${option.id}`,
        label: `${label} “${option.name}”`,
        unit,
        changes: 'costs',
        apply: (base, factor) =>
          withOptions(base, (other) => (other.id === option.id ? { ...option, ...change(factor) } : other)),
      },
      value,
      [0, 5],
    );
  return [
    ...METALS.filter((metal) => meanOfDraws(input.draws.gradeGpt[metal]) > 0).map((metal) =>
      recoveryWhatIf(input, option, metal),
    ),
    ...cost('reagents', 'the reagent cost of', perKg, middle(option.reagentCostPerKg), (factor) => ({
      reagentCostPerKg: scaledAmount(option.reagentCostPerKg, factor),
    })),
    ...cost(
      'labour',
      'the labour time of',
      'hours per charge',
      middle(option.labourHoursPerCharge),
      (factor) => ({
        labourHoursPerCharge: scaledAmount(option.labourHoursPerCharge, factor),
      }),
    ),
    ...cost('lead-price', 'the lead price of', perKg, option.lead.buyPricePerKg, (factor) => ({
      lead: { ...option.lead, buyPricePerKg: option.lead.buyPricePerKg * factor },
    })),
  ];
}

function wageWhatIf(input: DecideInput): WhatIf[] {
  const wage = Math.max(
    0,
    ...input.options.map((option) => (option.kind === 'in-house' ? option.wagePerHour : 0)),
  );
  return scaling(
    {
      id: 'wage',
      label: 'the wage',
      unit: `${input.currency} per hour`,
      changes: 'costs',
      apply: (base, factor) =>
        withOptions(base, (option) =>
          option.kind === 'in-house' ? { ...option, wagePerHour: option.wagePerHour * factor } : option,
        ),
    },
    wage,
    [0, 5],
  );
}

/** Terms that pay so many times as much for the metal, and charge the same. */
function paying(estimate: Estimate, factor: number): Estimate {
  const one: Estimate = (parcel) => {
    const paid = estimate(parcel);
    return { ...paid, netValue: paid.netValue + (factor - 1) * paid.paymentValue };
  };
  const { draws } = estimate;
  if (draws !== undefined)
    one.draws = (parcel, into) => {
      const paid = draws(parcel, into);
      const { netValue, paymentValue } = paid;
      for (let n = 0; n < netValue.length; n++) netValue[n]! += (factor - 1) * paymentValue[n]!;
      return paid;
    };
  return one;
}

function paymentWhatIf({ id, name }: DecisionOption): WhatIf {
  return {
    id: `payment/${id}`,
    label: `what the buyer of “${name}” pays for the metal`,
    unit: '% of the terms',
    changes: 'payments',
    today: 1,
    low: 0.5,
    high: 1.5,
    shown: (factor) => 100 * factor,
    apply: (base, factor) =>
      withOptions(base, (option) => {
        if (option.id !== id) return option;
        return { ...option, estimate: paying(option.estimate, factor) };
      }),
  };
}

/**
 * What may change the order of two options (or the worth of one): prices, true
 * grade, recoveries, the buyers' payment, reagents, labour, wage, lead, and the
 * size of the lot. All else stays as it is. `input` holds only the options compared.
 */
export function usualWhatIfs(input: DecideInput): WhatIf[] {
  const massUnit = input.units?.massUnit ?? 'kg';
  return [
    ...priceWhatIfs(input),
    ...gradeWhatIfs(input),
    ...input.options.flatMap((option) => (option.kind === 'in-house' ? inHouseWhatIfs(input, option) : [])),
    ...input.options.map(paymentWhatIf),
    ...wageWhatIf(input),
    ...scaling(
      {
        id: 'lot-mass',
        label: `the dry mass of ${input.subject ?? 'the lot'}`,
        unit: massUnit,
        changes: 'payments',
        apply: (base, factor) => ({ ...base, lotDryMassKg: base.lotDryMassKg * factor }),
      },
      massUnit === 'lb' ? (1000 * input.lotDryMassKg) / gramsPerPound : input.lotDryMassKg,
      [0.05, 10],
    ),
  ];
}
