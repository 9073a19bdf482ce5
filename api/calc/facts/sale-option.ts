import type { Estimate, SaleOption } from '../economics/options.ts';
import { elementFractions } from '../smelting/minerals.ts';
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
      name: `Sell the concentrate to ${terms.counterpartyName}`,
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
