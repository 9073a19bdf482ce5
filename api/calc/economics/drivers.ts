import { METAL_NAMES, METALS } from '../evidence/lot-evidence.ts';
import type { AmountField } from './cost-draws.ts';
import { treatmentAmount } from './cost-draws.ts';
import type { DecideInput, DecisionOption } from './options.ts';
import { buyerAssayFactors } from './payment-draws.ts';
import type { SharedDraws } from './shared-draws.ts';
import type { DrawnDecision } from './simulate.ts';
import { drawDecision } from './simulate.ts';
import { varianceShare } from './variance-share.ts';

/** One uncertain input and how much of the uncertainty it is behind. */
export interface Driver {
  id: string;
  label: string;
  /** Share of the variance that knowing it exactly would take away, on average. */
  shareFrac: number;
}

interface InputColumn {
  id: string;
  label: string;
  values: Float64Array;
}

const AMOUNT_LABELS = {
  reagentCostPerKg: 'reagents of',
  leadInKgPerKg: 'lead put in for',
  leadReturnFrac: 'lead returned by',
  furnaceHoursPerCharge: 'furnace hours of',
  labourHoursPerCharge: 'labour hours of',
} as const satisfies Record<AmountField, string>;

function optionColumns(input: DecideInput, option: DecisionOption, shared: SharedDraws): InputColumn[] {
  const prices = shared.priceFactors(option.horizonDays);
  const day = Math.round(option.horizonDays);
  const priceColumns = METALS.map((metal) => ({
    id: `price/${metal}/${day}`,
    label: `${METAL_NAMES[metal]} price in ${day} days`,
    values: prices[metal],
  }));
  if (option.kind === 'sale') {
    const assayed = buyerAssayFactors(option, shared);
    return [
      ...priceColumns,
      ...METALS.map((metal) => ({
        id: `buyer-assay/${option.id}/${metal}`,
        label: `${METAL_NAMES[metal]} assay of the buyer of “${option.name}”`,
        values: assayed[metal],
      })),
    ];
  }
  const { treatmentId, name } = option;
  return [
    ...priceColumns,
    ...METALS.map((metal) => ({
      id: `recovery/${treatmentId}/${metal}`,
      label: `${METAL_NAMES[metal]} recovery of “${name}”`,
      values: input.draws.recoveryFrac[treatmentId]![metal],
    })),
    ...(Object.keys(AMOUNT_LABELS) as AmountField[]).map((field) => ({
      id: `${field}/${treatmentId}`,
      label: `${AMOUNT_LABELS[field]} “${name}”`,
      values: treatmentAmount(option, field, shared),
    })),
  ];
}

/**
 * What the uncertainty of a choice rests on: for each uncertain input, its share
 * of the variance of the difference between two options (or, without
 * `secondId`, of the net value of the first), largest first (`varianceShare`). Grade and
 * recovery are known together, so their shares overlap.
 */
export function drivers({
  input,
  firstId,
  secondId = null,
  drawn = drawDecision({
    ...input,
    options: input.options.filter(({ id }) => id === firstId || id === secondId),
  }),
}: {
  input: DecideInput;
  firstId: string;
  secondId?: string | null;
  /** The draws of the decision, where they were made before. */
  drawn?: DrawnDecision;
}): Driver[] {
  const { shared } = drawn;
  const named = (id: string | null) => drawn.options.filter(({ option }) => option.id === id);
  const [first] = named(firstId);
  const [second] = named(secondId);
  if (first === undefined) return [];
  const options = second === undefined ? [first] : [first, second];
  const outcome =
    second === undefined ? first.netValue : first.netValue.map((value, n) => value - second.netValue[n]!);
  const columns: InputColumn[] = [
    ...METALS.map((metal) => ({
      id: `grade/${metal}`,
      label: `true ${METAL_NAMES[metal]} grade`,
      values: input.draws.gradeGpt[metal],
    })),
    ...options.flatMap(({ option }) => optionColumns(input, option, shared)),
  ];
  const unique = new Map(columns.map((column) => [column.id, column]));
  return [...unique.values()]
    .flatMap(({ id, label, values }) => {
      const shareFrac = varianceShare(outcome, values);
      return shareFrac === null ? [] : [{ id, label, shareFrac }];
    })
    .toSorted((a, b) => b.shareFrac - a.shareFrac);
}
