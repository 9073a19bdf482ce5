import type { Choice } from '../../parts/choice-field.tsx';
import type { RoundingRule } from '../../../api/calc/rounding.ts';
import type { AssaySettlement, UmpireTerms } from '../../../api/calc/terms/assay-terms.ts';
import type {
  PayableForm,
  PriceBasis,
  PriceChoice,
  QuotationalPeriod,
  RefiningTerms,
  SimplePayableForm,
} from '../../../api/calc/terms/metal-terms.ts';
import type {
  EventName,
  GradeUnit,
  MassBasis,
  MassUnit,
  PriceUnit,
} from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';

/** The choices of a contract in the words of the trade, the most usual first. */
export const choices = <Value extends string>(labels: Record<Value, string>): Choice<Value>[] =>
  (Object.entries(labels) as [Value, string][]).map(([value, label]) => ({ value, label }));

export const directions = choices<Terms['direction']>({
  'we-sell': 'We sell to them',
  'we-buy': 'We buy from them',
  'we-toll': 'We treat for them (toll)',
});

export const materials = choices<Terms['material']>({
  concentrate: 'Concentrate',
  dore: 'Doré bars',
  'by-product': 'By-product (matte, slag, lead)',
});

export const settlements = choices<Terms['settledIn']>({
  money: 'Money',
  metal: 'Metal returned, charges in money',
});

export const massUnits = choices<MassUnit>({
  kg: 'kg',
  tonne: 'tonne',
  lb: 'lb',
  'short ton': 'short ton',
  'long ton': 'long ton',
  ozt: 'troy ounce',
  g: 'g',
});

export const gradeUnits = choices<GradeUnit>({
  'g/t': 'g/t',
  percent: 'percent',
  fineness: 'fineness (parts in 1,000)',
  ppm: 'ppm',
  'oz/short ton': 'troy oz per short ton',
  'oz/t': 'troy oz per tonne',
  'oz/long ton': 'troy oz per long ton',
});

/** A grade unit as it stands behind a figure. */
export const gradeSign = (unit: GradeUnit | undefined): string =>
  unit === undefined ? '' : unit === 'percent' ? '%' : unit === 'fineness' ? '‰' : unit;

export const priceUnits = choices<PriceUnit>({
  ozt: 'troy ounce',
  lb: 'lb',
  tonne: 'tonne',
  kg: 'kg',
  g: 'g',
  'short ton': 'short ton',
  'long ton': 'long ton',
  unit: 'unit (1 % of a tonne)',
});

const baseWords: Record<MassBasis, string> = {
  settlement: 'Settlement mass',
  dry: 'Dry mass',
  wet: 'Wet mass',
  gross: 'Gross mass',
  moisture: 'Moisture (the water)',
  received: 'Mass as received',
};

/** The masses that a clause can be reckoned on: bars have no moisture, wet material is not melted. */
export function massBases(weights: 'dry' | 'melt', chosen: MassBasis): Choice<MassBasis>[] {
  const known: MassBasis[] =
    weights === 'dry' ? ['settlement', 'dry', 'wet', 'gross', 'moisture'] : ['settlement', 'received'];
  return (known.includes(chosen) ? known : [...known, chosen]).map((value) => ({
    value,
    label: baseWords[value],
  }));
}

export const events = choices<EventName>({
  shipment: 'Shipment',
  arrival: 'Arrival',
  weighing: 'Weighing',
  melting: 'Melting',
  'assay-exchange': 'Exchange of assays',
  'price-declaration': 'Declaration of the price',
  statement: 'Statement',
});

export const roundingRules = choices<RoundingRule['rule']>({
  'half-up': 'Halves up',
  'half-even': 'Halves to the even digit',
  truncate: 'The rest cut off',
});

export const assaySettlements = choices<AssaySettlement['kind']>({
  exchange: 'Exchange and umpire',
  mean: 'Mean of seller’s and buyer’s',
  buyer: 'The buyer’s result counts',
  seller: 'The seller’s result counts',
});

export const umpireRules = choices<UmpireTerms['rule']>({
  'middle-of-three': 'The middle of the three results',
  'mean-of-nearest-two': 'Mean of the two nearest together',
  'mean-of-umpire-and-nearer': 'Mean of umpire’s and nearer party’s',
  'nearer-party': 'The nearer party’s result',
});

export const umpireCosts = choices<UmpireTerms['costBorneBy']>({
  'further-party': 'The party further away',
  shared: 'Both in halves',
  seller: 'The seller',
  buyer: 'The buyer',
});

export const parties = choices<'seller' | 'buyer'>({ buyer: 'The buyer', seller: 'The seller' });

export const simpleForms = choices<SimplePayableForm['kind']>({
  'lesser-of': 'Lesser of percent and deduction',
  'unit-then-percent': 'Deduction first, then percent',
  'percent-then-unit': 'Percent first, then deduction',
});

export const payableForms: Choice<PayableForm['kind']>[] = [
  ...simpleForms,
  { value: 'steps', label: 'Steps by grade' },
  { value: 'bands', label: 'Bands by grade' },
  { value: 'sliding', label: 'Sliding scale' },
];

export const payableOrders = choices<'grade' | 'content'>({
  grade: 'The assay',
  content: 'The metal contained',
});

export const priceBases = choices<PriceBasis['kind']>({
  quotations: 'Mean of daily quotations',
  fixed: 'Fixed price',
  'by-grade': 'Fixed prices, by the grade',
  choice: 'One of several quotations or periods',
});

export const priceChoices = choices<PriceChoice>({
  lowest: 'The lowest counts',
  highest: 'The highest counts',
  mean: 'The mean of all counts',
  'seller-option': 'The seller chooses',
  'buyer-option': 'The buyer chooses',
});

export const periods = choices<QuotationalPeriod['kind']>({
  'calendar-month': 'A calendar month',
  'business-days': 'Business days around an event',
  'calendar-week': 'A calendar week',
  'calendar-days': 'Calendar days around an event',
  dates: 'Fixed dates',
});

export const standIns = choices<'latest' | 'mean-of-last'>({
  latest: 'The latest quotation',
  'mean-of-last': 'The mean of the last quotations',
});

export const refinings = choices<RefiningTerms['kind'] | 'none'>({
  none: 'None',
  'per-payable-unit': 'Charged on each payable unit',
  'price-reduction': 'Taken off the price',
});

const elementNames = {
  Au: 'gold',
  Ag: 'silver',
  Pt: 'platinum',
  Pd: 'palladium',
  Cu: 'copper',
  Pb: 'lead',
  Zn: 'zinc',
  As: 'arsenic',
  Sb: 'antimony',
  Bi: 'bismuth',
  Hg: 'mercury',
  Cd: 'cadmium',
  Se: 'selenium',
  Te: 'tellurium',
  Sn: 'tin',
  Ni: 'nickel',
  Co: 'cobalt',
  Fe: 'iron',
  S: 'sulfur',
  F: 'fluorine',
  Cl: 'chlorine',
  SiO2: 'silica',
  Al2O3: 'alumina',
  CaO: 'lime',
  MgO: 'magnesia',
};

/** Elements and compounds that contracts of this kind speak of; one that is already chosen is always among them. */
export function elementChoices(chosen: string): Choice<string>[] {
  const known = choices<string>(
    Object.fromEntries(Object.entries(elementNames).map(([symbol, name]) => [symbol, `${symbol}, ${name}`])),
  );
  return chosen === '' || chosen in elementNames ? known : [...known, { value: chosen, label: chosen }];
}
