import type { DecideInput } from '../economics/options.ts';
import type { WhatIf } from '../economics/what-ifs.ts';
import { METAL_NAMES, METALS } from '../evidence/lot-evidence.ts';
import type { MetalTerms, PayableForm, SimplePayableForm } from '../terms/metal-terms.ts';
import type { Terms } from '../terms/terms.ts';
import { recordsOfOption } from './lot-options.ts';
import type { DecisionFacts, TermsFacts } from './records.ts';
import { termsEstimate } from './terms-estimate.ts';

const scaled = (decimal: string, factor: number): string => String(Number(decimal) * factor);

/** A what-if on a factor of one figure of a contract: the contract is written anew and compiled. */
function clauseWhatIf(
  facts: DecisionFacts,
  terms: TermsFacts,
  parts: Pick<WhatIf, 'id' | 'label' | 'unit' | 'low' | 'high'> & { value: number },
  write: (body: Terms, factor: number) => Terms,
): WhatIf[] {
  const { value, ...named } = parts;
  if (!(value > 0)) return [];
  return [
    {
      ...named,
      changes: 'payments',
      today: 1,
      shown: (factor) => factor * value,
      apply: (input, factor) => {
        const estimate = termsEstimate({ ...terms, body: write(terms.body, factor) }, facts);
        if ('faults' in estimate) return input;
        return {
          ...input,
          options: input.options.map((option) =>
            recordsOfOption(option.id, facts)?.terms === terms ? { ...option, estimate } : option,
          ),
        };
      },
    },
  ];
}

const paidFracs = (form: PayableForm): number[] => {
  switch (form.kind) {
    case 'steps':
      return form.steps.map((step) => Number(step.form.paidFrac));
    case 'bands':
      return form.bands.map((band) => Number(band.paidFrac));
    case 'sliding':
      return [Number(form.form.paidFrac)];
    default:
      return [Number(form.paidFrac)];
  }
};

function withPaidFracs(form: PayableForm, factor: number): PayableForm {
  const simple = (one: SimplePayableForm) => ({ ...one, paidFrac: scaled(one.paidFrac, factor) });
  switch (form.kind) {
    case 'steps':
      return { ...form, steps: form.steps.map((step) => ({ ...step, form: simple(step.form) })) };
    case 'bands':
      return {
        ...form,
        bands: form.bands.map((band) => ({ ...band, paidFrac: scaled(band.paidFrac, factor) })),
      };
    case 'sliding':
      return { ...form, form: simple(form.form) };
    default:
      return simple(form);
  }
}

function changeMetal(body: Terms, metal: string, change: (terms: MetalTerms) => MetalTerms): Terms {
  return { ...body, metals: body.metals.map((one) => (one.metal === metal ? change(one) : one)) };
}

/** The share of a metal's assay that is paid, up to all of it; where there are steps or bands, all of them together. */
function payableWhatIfs(facts: DecisionFacts, terms: TermsFacts): WhatIf[] {
  return METALS.flatMap((metal) => {
    const clause = terms.body.metals.find((one) => one.metal === metal);
    if (clause === undefined) return [];
    const fracs = paidFracs(clause.form);
    const highest = Math.max(...fracs);
    const which = fracs.length > 1 ? ' (highest step; all steps together)' : '';
    return clauseWhatIf(
      facts,
      terms,
      {
        id: `payable/${terms.id}/${metal}`,
        label: `the share of the ${METAL_NAMES[metal]} that ${terms.counterpartyName} pays for${which}`,
        unit: '%',
        low: 0.5,
        high: Math.max(1, 1 / highest),
        value: 100 * highest,
      },
      (body, factor) =>
        changeMetal(body, metal, (one) => ({ ...one, form: withPaidFracs(one.form, factor) })),
    );
  });
}

function refiningWhatIfs(facts: DecisionFacts, terms: TermsFacts): WhatIf[] {
  return METALS.flatMap((metal) => {
    const clause = terms.body.metals.find((one) => one.metal === metal);
    if (!clause?.refining) return [];
    return clauseWhatIf(
      facts,
      terms,
      {
        id: `refining/${terms.id}/${metal}`,
        label: `the refining charge of ${terms.counterpartyName} on ${METAL_NAMES[metal]}`,
        unit: `${terms.body.currency} per ${clause.price.unit}`,
        low: 0,
        high: 5,
        value: Number(clause.refining.rate),
      },
      (body, factor) =>
        changeMetal(body, metal, (one) => ({
          ...one,
          refining: one.refining && { ...one.refining, rate: scaled(one.refining.rate, factor) },
        })),
    );
  });
}

/** Charges by mass, such as the treatment charge (TC) of a smelter or a refiner's charge per gross ounce. */
function chargeWhatIfs(facts: DecisionFacts, terms: TermsFacts): WhatIf[] {
  return terms.body.charges.flatMap((charge, place) => {
    if (charge.kind !== 'per-mass') return [];
    const called = charge.name.charAt(0).toLowerCase() + charge.name.slice(1);
    return clauseWhatIf(
      facts,
      terms,
      {
        id: `charge/${terms.id}/${place}`,
        label: `the ${called} of ${terms.counterpartyName}`,
        unit: `${charge.currency ?? terms.body.currency} per ${charge.unit}`,
        low: 0,
        high: 5,
        value: Number(charge.rate),
      },
      (body, factor) => ({
        ...body,
        charges: body.charges.map((one, at) =>
          at === place && one.kind === 'per-mass' ? { ...one, rate: scaled(one.rate, factor) } : one,
        ),
      }),
    );
  });
}

/** What-ifs on the clauses of the buyers' terms that the options are sold under. */
export function termsWhatIfs(pair: DecideInput, facts: DecisionFacts): WhatIf[] {
  const used = pair.options.flatMap(({ id }) => recordsOfOption(id, facts)?.terms ?? []);
  return [...new Set(used)].flatMap((terms) => [
    ...payableWhatIfs(facts, terms),
    ...chargeWhatIfs(facts, terms),
    ...refiningWhatIfs(facts, terms),
  ]);
}
