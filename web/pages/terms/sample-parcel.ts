import { Dec } from '../../../api/calc/money.ts';
import type { SettlementDates, SettlementInput } from '../../../api/calc/settlement/input.ts';
import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import { convert, gradeConversion } from '../../../api/calc/terms/conversion.ts';
import { isQuoted } from '../../../api/calc/terms/price-bases.ts';
import type { GradeUnit, PriceUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import type { Quotation } from '../../../api/schemas/supply.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { figureReader, figureWriter } from '../../lib/typed-figures.ts';

/** A parcel to try a contract on, as typed: masses in the owner's unit, moisture in percent. */
export interface SampleDraft {
  wetMassKg: string;
  moistureFrac: string;
  barMassG: string;
  assays: SampleAssay[];
  prices: SamplePrice[];
  rates: { currency: string; rate: string }[];
}

export interface SampleAssay {
  element: string;
  unit: GradeUnit;
  value: string;
}

export interface SamplePrice {
  metal: string;
  unit: PriceUnit;
  currency: string;
  price: string;
}

/** Rich enough to be worth selling, with some arsenic to try the penalty on. Grades in g/t, bars in fineness. */
const concentrateGpt: Record<string, string> = { Au: '200', Ag: '5000', As: '3000', Pb: '80000', Cu: '5000' };
const barFineness: Record<string, string> = { Au: '250', Ag: '700' };

export const startingSample = (owner: OwnerChoices): SampleDraft => {
  const write = figureWriter(owner);
  return {
    wetMassKg: write.quantity('lotMassKg', owner.massUnit === 'lb' ? '907.18474' : '1000'),
    moistureFrac: '6',
    barMassG: write.quantity('metalMassG', owner.metalUnit === 'ozt' ? '622.069536' : '500'),
    assays: [],
    prices: [],
    rates: [],
  };
};

const usualGrade = (element: string, isBars: boolean): [string, GradeUnit] =>
  isBars ? [barFineness[element] ?? '0', 'fineness'] : [concentrateGpt[element] ?? '0', 'g/t'];

function shownAssay(rule: AssayRule, terms: Terms, owner: OwnerChoices): SampleAssay {
  const { element, unit } = rule;
  const [value, from] = usualGrade(element, terms.weights.kind === 'melt');
  const inUnit = convert(new Dec(value), gradeConversion(from, unit), terms.factors).toSignificantDigits(4);
  return { element, unit, value: figureWriter(owner).text(inUnit.toFixed()) };
}

/** Every assay that the contract settles, as typed or as is usual. */
export const sampleAssays = (sample: SampleDraft, terms: Terms, owner: OwnerChoices): SampleAssay[] =>
  terms.assays.map(
    (rule) =>
      sample.assays.find((one) => one.element === rule.element && one.unit === rule.unit) ??
      shownAssay(rule, terms, owner),
  );

const quotedAs: Partial<Record<PriceUnit, Quotation['unit']>> = {
  ozt: 'ozt',
  tonne: 't',
  lb: 'lb',
  kg: 'kg',
  g: 'g',
};

/** Every price that the contract takes from quotations, as typed or as last quoted. */
export function samplePrices(
  sample: SampleDraft,
  terms: Terms,
  quotations: readonly Quotation[],
  owner: OwnerChoices,
): SamplePrice[] {
  return terms.metals
    .filter(({ price }) => isQuoted(price.basis))
    .map(({ metal, price }) => {
      const currency = price.currency ?? terms.currency;
      const quoted = quotations.find(
        (one) => one.metal === metal && one.currency === currency && one.unit === quotedAs[price.unit],
      );
      return (
        sample.prices.find(
          (one) => one.metal === metal && one.unit === price.unit && one.currency === currency,
        ) ?? { metal, unit: price.unit, currency, price: figureWriter(owner).text(quoted?.price ?? null) }
      );
    });
}

export const sampleRates = (sample: SampleDraft, terms: Terms): SampleDraft['rates'] =>
  terms.exchangeRates.map(
    ({ currency }) => sample.rates.find((one) => one.currency === currency) ?? { currency, rate: '' },
  );

/** The sample as a final settlement on which both parties agree; null while something typed cannot be read. */
export function sampleInput(parts: {
  sample: SampleDraft;
  terms: Terms;
  quotations: readonly Quotation[];
  owner: OwnerChoices;
  today: string;
}): SettlementInput | null {
  const { sample, terms, quotations, owner, today } = parts;
  const read = figureReader(owner);
  const dates: SettlementDates = {
    shippedOn: today,
    arrivedOn: today,
    weighedOn: today,
    meltedOn: today,
    assaysExchangedOn: today,
    priceDeclaredOn: today,
    statementOn: today,
  };
  const input: SettlementInput = {
    terms,
    stage: 'final',
    parcel:
      terms.weights.kind === 'melt'
        ? {
            kind: 'dore',
            bars: [
              {
                name: 'Sample bar',
                receivedG: read.quantity('metalMassG', sample.barMassG, ''),
                afterMeltG: read.quantity('metalMassG', sample.barMassG, ''),
              },
            ],
          }
        : {
            kind: 'concentrate',
            sublots: [
              {
                name: 'Sample parcel',
                grossKg: read.quantity('lotMassKg', sample.wetMassKg, ''),
                tareKg: '0',
                moistureFrac: read.percent(sample.moistureFrac, ''),
              },
            ],
          },
    assays: sampleAssays(sample, terms, owner).map(({ element, unit, value }) => {
      const result = read.optional(value, '');
      return { element, unit, own: result, buyer: result, umpire: null };
    }),
    prices: samplePrices(sample, terms, quotations, owner).map(({ metal, price }) => ({
      metal,
      price: read.optional(price, ''),
      basis: 'as typed for the sample',
      quotations: [],
    })),
    exchangeRates: sampleRates(sample, terms).flatMap(({ currency, rate }) => {
      const value = read.optional(rate, '');
      return value === null ? [] : [{ currency, rate: value, date: today }];
    }),
    dates,
    previouslyPaid: [],
  };
  return read.incomplete.length > 0 ? null : input;
}
