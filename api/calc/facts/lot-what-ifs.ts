import type { DecideInput, DecisionOption, InHouseOption } from '../economics/options.ts';
import type { WhatIf } from '../economics/what-ifs.ts';
import { usualWhatIfs } from '../economics/what-ifs.ts';
import type { Assumptions } from './assumptions.ts';
import { priceOn } from '../books/batch-cost.ts';
import { withCostsOf, recordsOfOption } from './lot-options.ts';
import type { DecisionFacts, SupplyFacts } from './records.ts';
import { termsWhatIfs } from './terms-what-ifs.ts';

/** Costs of up to five times today's are looked at. */
const COST_RANGE: [low: number, high: number] = [0, 5];

/** The records and assumptions that a what-if changes. */
interface Basis {
  facts: DecisionFacts;
  assumptions: Assumptions;
}

/** A what-if on a factor of something that only costs depend on, shown as `value` × factor. */
function costWhatIf(
  basis: Basis,
  parts: Pick<WhatIf, 'id' | 'label' | 'unit'> & { value: number },
  change: (basis: Basis, factor: number) => Partial<Basis>,
): WhatIf[] {
  const { value, ...named } = parts;
  if (!(value > 0)) return [];
  const [low, high] = COST_RANGE;
  return [
    {
      ...named,
      changes: 'costs',
      today: 1,
      low,
      high,
      shown: (factor) => factor * value,
      apply: (input, factor) => {
        const { facts, assumptions } = { ...basis, ...change(basis, factor) };
        return { ...input, options: input.options.map((option) => withCostsOf(option, facts, assumptions)) };
      },
    },
  ];
}

/** Every price of some supplies times a factor. */
function withPricesOf(facts: DecisionFacts, changed: readonly SupplyFacts[], factor: number): DecisionFacts {
  const scaled = (supply: SupplyFacts): SupplyFacts => ({
    ...supply,
    prices: supply.prices.map((one) => ({ ...one, price: String(Number(one.price) * factor) })),
  });
  return { ...facts, supplies: facts.supplies.map((one) => (changed.includes(one) ? scaled(one) : one)) };
}

/** Supplies of some kinds that the treatments of the options use, each once. */
function suppliesUsed(
  pair: DecideInput,
  facts: DecisionFacts,
  kinds: readonly SupplyFacts['kind'][],
): SupplyFacts[] {
  const ids = new Set(
    pair.options.flatMap(({ id }) => {
      const treatment = recordsOfOption(id, facts)?.treatment;
      if (!treatment) return [];
      return [treatment.fuelSupplyId, ...treatment.recipe.map((one) => one.supplyId)];
    }),
  );
  return facts.supplies.filter((supply) => ids.has(supply.id) && kinds.includes(supply.kind));
}

function supplyPriceWhatIfs(pair: DecideInput, basis: Basis): WhatIf[] {
  const { facts, assumptions } = basis;
  return suppliesUsed(pair, facts, ['fuel', 'litharge']).flatMap((supply) => {
    const factorNow = supply.kind === 'fuel' ? assumptions.fuelPriceFactor : 1;
    return costWhatIf(
      basis,
      {
        id: `supply/${supply.id}`,
        label: `the price of ${supply.name}`,
        unit: `${facts.currency} per ${supply.unit}`,
        value: Number(priceOn(supply, facts.on) ?? 0) * factorNow,
      },
      (before, factor) => ({ facts: withPricesOf(before.facts, [supply], factor) }),
    );
  });
}

function leadPriceWhatIf(pair: DecideInput, basis: Basis): WhatIf[] {
  const treated = pair.options.find(
    (option): option is InHouseOption => option.kind === 'in-house' && option.lead.recoveredValuePerKg > 0,
  );
  if (treated === undefined) return [];
  const kept = basis.facts.supplies.filter((supply) => supply.kind === 'lead');
  return costWhatIf(
    basis,
    {
      id: 'lead-price',
      label: 'the price of lead, bought and recovered',
      unit: `${basis.facts.currency} per kg`,
      value: treated.lead.recoveredValuePerKg,
    },
    ({ facts, assumptions }, factor) => ({
      facts: withPricesOf(facts, kept, factor),
      assumptions: {
        ...assumptions,
        leadPricePerKg: assumptions.leadPricePerKg === null ? null : assumptions.leadPricePerKg * factor,
      },
    }),
  );
}

function reagentWhatIf(pair: DecideInput, basis: Basis): WhatIf[] {
  const used = pair.options.some((option) => option.kind === 'in-house' && option.reagentCostPerKg !== 0);
  return costWhatIf(
    basis,
    {
      id: 'reagent-prices',
      label: 'the price level of all reagents (litharge apart)',
      unit: '% of those in the books',
      value: used ? 100 * basis.assumptions.reagentPriceFactor : 0,
    },
    ({ assumptions }, factor) => ({
      assumptions: { ...assumptions, reagentPriceFactor: assumptions.reagentPriceFactor * factor },
    }),
  );
}

/** Lead lost is what does not come back; each of its three values times a factor, up to all of it. */
function leadLossWhatIfs(pair: DecideInput): WhatIf[] {
  const inHouse = pair.options.filter((option): option is InHouseOption => option.kind === 'in-house');
  const unique = [...new Map(inHouse.map((option) => [option.treatmentId, option])).values()];
  return unique.flatMap(({ treatmentId, name, lead }) => {
    const { inKgPerKg, returnFrac } = lead;
    const given =
      typeof returnFrac === 'number' ? { low: returnFrac, mode: returnFrac, high: returnFrac } : returnFrac;
    const lossFrac = 1 - (given.low + given.mode + given.high) / 3;
    if (inKgPerKg === 0 || !(lossFrac > 0)) return [];
    const lost = (factor: number) => ({
      low: 1 - factor * (1 - given.low),
      mode: 1 - factor * (1 - given.mode),
      high: 1 - factor * (1 - given.high),
    });
    const change = (option: DecisionOption, factor: number): DecisionOption =>
      option.kind === 'in-house' && option.treatmentId === treatmentId
        ? { ...option, lead: { ...option.lead, returnFrac: lost(factor) } }
        : option;
    return [
      {
        id: `lead-loss/${treatmentId}`,
        label: `the lead lost by “${name}”`,
        unit: '% of what is put in',
        changes: 'costs' as const,
        today: 1,
        low: 0,
        high: Math.min(COST_RANGE[1], 1 / (1 - given.low)),
        shown: (factor: number) => 100 * factor * lossFrac,
        apply: (input: DecideInput, factor: number) => ({
          ...input,
          options: input.options.map((option) => change(option, factor)),
        }),
      },
    ];
  });
}

/**
 * What may change the order of two options of a lot: all that is usual for any
 * options, and what only the records know: the clauses of the buyers' terms, the
 * prices of supplies, the lead that is lost. `pair` holds only the options compared.
 */
export function lotWhatIfs(pair: DecideInput, facts: DecisionFacts, assumptions: Assumptions): WhatIf[] {
  const basis = { facts, assumptions };
  // Here lead has one price, whether it is bought or comes back, and what a buyer pays stands in its clauses.
  const usual = usualWhatIfs(pair).filter(({ id }) => !/^(lead-price|payment)\//.test(id));
  const whatIfs = [
    ...usual,
    ...termsWhatIfs(pair, facts),
    ...reagentWhatIf(pair, basis),
    ...supplyPriceWhatIfs(pair, basis),
    ...leadPriceWhatIf(pair, basis),
    ...leadLossWhatIfs(pair),
  ];
  return [...new Map(whatIfs.map((whatIf) => [whatIf.id, whatIf])).values()];
}
