import type { Estimate, SaleOption } from '../economics/options.ts';
import { elementFractions } from '../smelting/minerals.ts';
import type { GradeUnit, MassUnit } from '../terms/term-units.ts';
import {
  gptPerOzPerLongTon,
  gptPerOzPerShortTon,
  gramsPerPound,
  gramsPerTroyOunce,
  kgPerLongTon,
  kgPerShortTon,
} from '../units.ts';
import type { Assumptions } from './assumptions.ts';
import { daysUntilPaid } from './payment-days.ts';
import type { DecisionFacts, LotFacts, TermsFacts } from './records.ts';

/** Relative standard deviation of a buyer's gold and silver assay around the true grade. Common practice. */
const BUYER_ASSAY_RELATIVE_SD = 0.03;

/**
 * What a lot holds beside gold and silver, as mass fractions: the mean of its lab assays of an element, and
 * the stoichiometry of its minerals for elements that no laboratory assayed.
 */
export function otherAssays(lot: LotFacts): Record<string, number> {
  const fractions = elementFractions({
    minerals: lot.minerals.map(({ mineral, massFrac }) => ({ mineral, massFrac: Number(massFrac) })),
  });
  const assayed = new Map<string, number[]>();
  for (const assay of lot.labAssays) {
    const fraction = Number(assay.value) / (assay.unit === 'percent' ? 100 : 1_000_000);
    assayed.set(assay.element, [...(assayed.get(assay.element) ?? []), fraction]);
  }
  for (const [element, values] of assayed)
    fractions[element] = values.reduce((sum, value) => sum + value, 0) / values.length;
  delete fractions.Au;
  delete fractions.Ag;
  return fractions;
}

/** Tonnes in one of what a contract weighs in. */
const TONNES_IN: Record<MassUnit, number> = {
  kg: 1 / 1000,
  g: 1 / 1_000_000,
  tonne: 1,
  'short ton': kgPerShortTon / 1000,
  'long ton': kgPerLongTon / 1000,
  lb: gramsPerPound / 1_000_000,
  ozt: gramsPerTroyOunce / 1_000_000,
};

/** Mass fraction in one of what a contract states grades in. */
const FRACTION_IN: Record<GradeUnit, number> = {
  percent: 0.01,
  fineness: 0.001,
  'g/t': 1e-6,
  ppm: 1e-6,
  'oz/t': gramsPerTroyOunce / 1_000_000,
  'oz/short ton': gptPerOzPerShortTon / 1_000_000,
  'oz/long ton': gptPerOzPerLongTon / 1_000_000,
};

/** Why the buyer need not take this mass of the lot, one sentence each; empty where he must. */
export function refusals(terms: TermsFacts, lot: LotFacts, dryMassKg: number): string[] {
  const known = otherAssays(lot);
  const reasons = terms.body.penalties.flatMap(({ name, elements, unit, refusedAbove }) => {
    if (refusedAbove === null) return [];
    const grade = elements.reduce((sum, element) => sum + (known[element] ?? 0), 0) / FRACTION_IN[unit];
    return grade > Number(refusedAbove)
      ? [
          `${name} is about ${Number(grade.toPrecision(2))} ${unit}, and above ${refusedAbove} the buyer may refuse it`,
        ]
      : [];
  });
  const { acceptance } = terms.body;
  if (acceptance !== null) {
    const wetKg = dryMassKg / (1 - Number(lot.moistureFrac));
    const isDry = acceptance.basis === 'dry' || acceptance.basis === 'settlement';
    const mass = (isDry ? dryMassKg : wetKg) / 1000 / TONNES_IN[acceptance.unit];
    if (acceptance.minimum !== null && mass < Number(acceptance.minimum))
      reasons.push(`the buyer takes no less than ${acceptance.minimum} ${acceptance.unit}`);
    if (acceptance.maximum !== null && mass > Number(acceptance.maximum))
      reasons.push(`the buyer takes no more than ${acceptance.maximum} ${acceptance.unit}`);
  }
  return reasons;
}

/** Elements that the terms pay for or penalize. */
function elementsOf(terms: TermsFacts): string[] {
  return [
    ...terms.body.metals.map((metal) => metal.metal),
    ...terms.body.penalties.flatMap((penalty) => penalty.elements),
  ].filter((element) => element !== 'Au' && element !== 'Ag');
}

/** The sale of the concentrate as it is, under a buyer's terms; and which elements are taken as absent. */
export function saleOption(
  terms: TermsFacts,
  facts: DecisionFacts,
  assumptions: Assumptions,
  estimate: Estimate,
): { option: SaleOption; takenAsAbsent: string[] } {
  const known = otherAssays(facts.lot);
  const elements = elementsOf(terms);
  return {
    takenAsAbsent: elements.filter((element) => known[element] === undefined),
    option: {
      kind: 'sale',
      id: `sale/${terms.id}`,
      name: `Sell to ${terms.counterpartyName}`,
      estimate,
      moistureFrac: Number(facts.lot.moistureFrac),
      otherAssays: Object.fromEntries(elements.map((element) => [element, known[element] ?? 0])),
      buyerAssayRelativeSd: BUYER_ASSAY_RELATIVE_SD,
      freightCostPerWetTonne: 0,
      fixedCosts:
        assumptions.saleFreightAndAssays === 0
          ? []
          : [{ label: 'Freight and assays', amount: assumptions.saleFreightAndAssays }],
      horizonDays: daysUntilPaid(terms.body),
      daysUntilCash: daysUntilPaid(terms.body),
    },
  };
}
