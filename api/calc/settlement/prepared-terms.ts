import type { Finding } from '../finding.ts';
import { roundingSentence } from '../rounding.ts';
import { checkTerms } from '../terms/check-terms.ts';
import { choosingElements } from '../terms/choosing-elements.ts';
import { MOISTURE } from '../terms/term-units.ts';
import type { Terms } from '../terms/terms.ts';

/** What a contract says of itself, whatever parcel is settled by it. */
export interface PreparedTerms {
  /** Of the contract's checks, each with its pointer into the settlement's input. */
  findings: Finding[];
  /** Elements whose assay some clause needs. */
  elements: string[];
  /** The contract's rounding as sentences to print. */
  roundingRules: string[];
}

const prepared = new WeakMap<Terms, PreparedTerms>();

/** Reads a contract once for all parcels that are settled by the same terms; terms are never changed in place. */
export function preparedTerms(terms: Terms): PreparedTerms {
  let known = prepared.get(terms);
  if (known === undefined) {
    known = {
      findings: checkTerms(terms).map((finding) => ({ ...finding, path: `/terms${finding.path}` })),
      elements: elementsNeeded(terms),
      roundingRules: roundingRules(terms),
    };
    prepared.set(terms, known);
  }
  return known;
}

function elementsNeeded(terms: Terms): string[] {
  const { metals, penalties, credits, royalties } = terms;
  const all = [
    ...metals.map((m) => m.metal),
    ...penalties.flatMap((p) => p.elements),
    ...credits.flatMap((c) =>
      c.kind === 'component' ? c.elements : c.kind === 'assay-value' ? c.metals : [],
    ),
    ...choosingElements(terms),
    ...royalties.flatMap((r) => (r.base.kind === 'own-price' ? r.base.metals.map((m) => m.metal) : [])),
  ];
  return [...new Set(all)].filter((element) => element !== MOISTURE);
}

function roundingRules(terms: Terms): string[] {
  const { rounding, weights, assays, metals } = terms;
  return [
    `Masses in ${weights.unit} ${roundingSentence(rounding.mass)}.`,
    ...(weights.kind === 'dry' ? [`Moisture in percent ${roundingSentence(rounding.moisture)}.`] : []),
    ...assays.map((rule) => `Assay of ${rule.element} in ${rule.unit} ${roundingSentence(rule.rounding)}.`),
    `Payable grades ${roundingSentence(rounding.payableGrade)}.`,
    `Contained and payable metal ${roundingSentence(rounding.payableMetal)}.`,
    ...metals
      .filter((metal) => metal.rounding !== null)
      .map(
        (metal) =>
          `Contained and payable ${metal.metal} in ${metal.price.unit} ${roundingSentence(metal.rounding ?? rounding.payableMetal)}.`,
      ),
    `Prices ${roundingSentence(rounding.price)}.`,
    `Values per unit of mass ${roundingSentence(rounding.perTonneValue)}.`,
    `Money in ${terms.currency} ${roundingSentence(rounding.money)}.`,
  ];
}
