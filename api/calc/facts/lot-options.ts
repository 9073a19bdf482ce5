import type { DecisionOption } from '../economics/options.ts';
import type { Finding } from '../finding.ts';
import type { PriceChoice } from '../terms/metal-terms.ts';
import type { Assumptions } from './assumptions.ts';
import { inHouseOption } from './in-house-option.ts';
import type { DecisionFacts, TermsFacts, TreatmentFacts } from './records.ts';
import { refusals, saleOption } from './sale-option.ts';
import { termsEstimate } from './terms-estimate.ts';

/** The id of an option: what is done with the lot, and under whose terms it is sold. */
export function optionId(treatmentId: string | null, termsId: string): string {
  return `${treatmentId ?? 'sale'}/${termsId}`;
}

/** The records behind an option; no treatment where the concentrate is sold as it is. Null where they are gone. */
export function recordsOfOption(
  id: string,
  facts: Pick<DecisionFacts, 'terms' | 'treatments'>,
): { treatment: TreatmentFacts | null; terms: TermsFacts } | null {
  for (const terms of facts.terms) {
    if (id === optionId(null, terms.id)) return { treatment: null, terms };
    const treatment = facts.treatments.find((one) => id === optionId(one.id, terms.id));
    if (treatment !== undefined) return { treatment, terms };
  }
  return null;
}

function leftOut(name: string, faults: string[]): Finding {
  return {
    code: 'option-not-usable',
    level: 'warning',
    path: '',
    sentence: `${name} is left out: ${[...new Set(faults)].join('; ')}.`,
  };
}

const WITHOUT_CHOICE: Record<PriceChoice, string> = {
  lowest: 'The lowest of them will be somewhat less than this estimate says.',
  highest: 'The highest of them will be somewhat more than this estimate says.',
  mean: 'Their mean varies somewhat less than this estimate says.',
  'seller-option': 'Choosing the better one is worth somewhat more than this estimate says.',
  'buyer-option': 'The buyer’s choice will cost somewhat more than this estimate says.',
};

/** The simulation draws one price of a metal; quotations of other periods to choose from would differ from it. */
function onePriceForAll({ counterpartyName, body }: TermsFacts): Finding[] {
  return body.metals.flatMap(({ metal, price }): Finding[] =>
    price.basis.kind !== 'choice' || price.basis.options.length < 2
      ? []
      : [
          {
            code: 'one-price-for-options',
            level: 'note',
            path: '',
            sentence: `${counterpartyName} prices ${metal} by ${price.basis.options.length} quotations of which one counts; one price is drawn for all of them, each with the part of it that is paid. ${WITHOUT_CHOICE[price.basis.rule]}`,
          },
        ],
  );
}

/** Every treatment with every refiner and every sale of a mass of the lot; and what is left out, with the reason. */
export function lotOptions(
  facts: DecisionFacts,
  assumptions: Assumptions,
  dryMassKg: number,
): { options: DecisionOption[]; findings: Finding[] } {
  const options: DecisionOption[] = [];
  const findings: Finding[] = [];
  const treatments = facts.treatments.filter((treatment) => !treatment.retired);
  const addInHouse = (treatment: TreatmentFacts, terms: TermsFacts): void => {
    const estimate = termsEstimate(terms, facts);
    const option =
      'faults' in estimate ? estimate : inHouseOption(treatment, terms, facts, assumptions, estimate);
    if ('faults' in option)
      findings.push(leftOut(`${treatment.name} with ${terms.counterpartyName}`, option.faults));
    else options.push(option);
  };
  const addSale = (terms: TermsFacts): void => {
    const estimate = termsEstimate(terms, facts);
    const reasons = 'faults' in estimate ? estimate.faults : refusals(terms, facts.lot, dryMassKg);
    if ('faults' in estimate || reasons.length > 0) {
      findings.push(leftOut(`The sale to ${terms.counterpartyName}`, reasons));
      return;
    }
    const { option, takenAsAbsent } = saleOption(terms, facts, assumptions, estimate);
    options.push(option);
    if (takenAsAbsent.length > 0)
      findings.push({
        code: 'element-not-assayed',
        level: 'warning',
        path: '',
        sentence: `${terms.counterpartyName} pays for or penalizes ${takenAsAbsent.join(', ')}, which neither an assay nor the minerals of this lot tell: taken as absent.`,
      });
  };
  for (const terms of facts.terms) {
    if (terms.body.direction !== 'we-sell') continue;
    if (terms.body.material === 'concentrate') addSale(terms);
    if (terms.body.material === 'dore') for (const treatment of treatments) addInHouse(treatment, terms);
  }
  for (const terms of facts.terms) {
    const isUsed = options.some(({ id }) => recordsOfOption(id, facts)?.terms.id === terms.id);
    if (isUsed) findings.push(...onePriceForAll(terms));
  }
  if (options.length === 0)
    findings.push({
      code: 'nothing-to-compare',
      level: 'blocker',
      path: '',
      sentence:
        'There is nothing to compare yet: it takes a treatment with a refiner’s terms for doré, or a buyer’s terms for concentrate, in force on the day.',
    });
  return { options, findings };
}

/** An option as it would be with the costs of other records or assumptions; its buyer pays as before. */
export function withCostsOf(
  option: DecisionOption,
  facts: DecisionFacts,
  assumptions: Assumptions,
): DecisionOption {
  const records = recordsOfOption(option.id, facts);
  if (records === null) return option;
  const { treatment, terms } = records;
  if (treatment === null) return saleOption(terms, facts, assumptions, option.estimate).option;
  const changed = inHouseOption(treatment, terms, facts, assumptions, option.estimate);
  return 'faults' in changed ? option : changed;
}
