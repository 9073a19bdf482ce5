import type { Finding } from '../finding.ts';
import { Dec, keptByText, type DecimalNumber } from '../money.ts';
import { decimalsOf, roundBy } from '../rounding.ts';
import type { MassBasis, MassUnit } from '../terms/term-units.ts';
import { conversionText, convert, massConversion } from '../terms/conversion.ts';
import type { Terms } from '../terms/terms.ts';
import { figure, given, printedQuantity, shown, type Figure } from './figure.ts';
import type { SettlementInput } from './input.ts';
import type { SettlementLine, SettlementSection } from './statement.ts';

/** One piece of the parcel: a sublot or a bar. */
export interface Piece {
  name: string;
  /** Dry mass of the sublot, mass of record of the bar, in the unit of the weights. */
  mass: Figure;
}

/** A settlement while it is being worked out: what is known so far and the lines written. */
export interface SettlementRun {
  input: SettlementInput;
  terms: Terms;
  lines: SettlementLine[];
  /** Sums of the amounts of the lines by their section, kept as they are written. */
  sums: Partial<Record<SettlementSection, DecimalNumber>>;
  findings: Finding[];
  pieces: Piece[];
  masses: Partial<Record<MassBasis, Figure>>;
  /** Settlement assays in the unit of their rule. */
  assays: Map<string, Figure>;
  /** The seller's part of umpires' costs, by element. */
  umpireShares: Map<string, DecimalNumber>;
  /** How many assays of an element an umpire settled. */
  umpired: Map<string, number>;
  /** Quoted prices in the contract's currency, before reductions; null where missing and said. */
  prices: Map<string, Figure | null>;
  exchangeRates: Map<string, Figure | null>;
  payables: Map<string, { mass: Figure; value: DecimalNumber | null }>;
  /** Masses of the parcel in other units, as clauses have asked for them. */
  massesFor: Map<string, Figure>;
  /** Values per unit of the valuation, signed, of the lines that are such a value × the settlement mass. */
  perTonneRates: DecimalNumber[];
}

export function startRun(input: SettlementInput): SettlementRun {
  return {
    input,
    terms: input.terms,
    lines: [],
    sums: {},
    findings: [],
    pieces: [],
    masses: {},
    assays: new Map(),
    umpireShares: new Map(),
    umpired: new Map(),
    prices: new Map(),
    exchangeRates: new Map(),
    payables: new Map(),
    massesFor: new Map(),
    perTonneRates: [],
  };
}

/** What two clauses need alike is said once. */
function say(run: SettlementRun, finding: Finding): void {
  const { code, sentence } = finding;
  if (!run.findings.some((one) => one.code === code && one.sentence === sentence)) run.findings.push(finding);
}

export function blocker(run: SettlementRun, code: string, path: string, sentence: string): void {
  say(run, { code, level: 'blocker', path, sentence });
}

export function warning(run: SettlementRun, code: string, path: string, sentence: string): void {
  say(run, { code, level: 'warning', path, sentence });
}

export function note(run: SettlementRun, code: string, path: string, sentence: string): void {
  say(run, { code, level: 'note', path, sentence });
}

interface NewLine {
  id: string;
  section: SettlementSection;
  label: string;
  working: string;
  quantity?: Figure | null;
  rate?: Figure | null;
  result?: Figure | null;
  /** Money, already rounded; signed as it counts for the seller. */
  amount?: DecimalNumber | null;
}

export function addLine(run: SettlementRun, line: NewLine): void {
  const { quantity = null, rate = null, result = null, amount = null } = line;
  const { money: rule } = run.terms.rounding;
  const rounded = amount === null ? null : roundBy(amount, rule);
  if (rounded !== null) run.sums[line.section] = run.sums[line.section]?.plus(rounded) ?? rounded;
  run.lines.push({
    id: line.id,
    section: line.section,
    label: line.label,
    working: line.working,
    quantity: quantity === null ? null : printedQuantity(quantity),
    rate: rate === null ? null : printedQuantity(rate),
    result: result === null ? null : printedQuantity(result),
    amount: rounded === null ? null : decimalsOf(rounded, rule),
  });
}

/** Rounds money by the contract's rule. */
export function money(run: SettlementRun, value: DecimalNumber): Figure {
  return figure(value, run.terms.rounding.money, run.terms.currency);
}

/** Sum of the amounts already on the statement in these sections. */
export function amountsIn(run: SettlementRun, ...sections: SettlementSection[]): DecimalNumber {
  let sum: DecimalNumber | null = null;
  for (const section of sections) {
    const own = run.sums[section];
    if (own !== undefined) sum = sum === null ? own : sum.plus(own);
  }
  return sum ?? new Dec(0);
}

/** A money rate with its unit, for example `195.00 USD/tonne`. */
export function rateOf(run: SettlementRun, text: string, unit: string): Figure {
  return given(text, `${run.terms.currency}/${unit}`);
}

/** A line of quantity × rate, rounded to money, with its sign; gives its amount. `why` stands before the working. */
export function addProductLine(
  run: SettlementRun,
  {
    id,
    section,
    label,
    sign,
    quantity,
    rate,
    why = '',
  }: {
    id: string;
    section: SettlementSection;
    label: string;
    sign: 1 | -1;
    quantity: Figure;
    rate: Figure;
    why?: string;
  },
): DecimalNumber {
  const product = money(run, quantity.value.times(rate.value));
  const amount = product.value.times(sign);
  addLine(run, {
    id,
    section,
    label,
    working: `${why}${shown(quantity)} × ${shown(rate)} = ${shown(product)}`,
    quantity,
    rate,
    amount,
  });
  return amount;
}

/**
 * A mass of the parcel in the unit a clause speaks of. Decimals follow the mass
 * rounding so that a shift of the point loses nothing; where the conversion is not
 * a power of ten a line prints it once.
 */
export function massFor(run: SettlementRun, basis: MassBasis, unit: MassUnit, path: string): Figure | null {
  const mass = run.masses[basis];
  if (mass === undefined) {
    blocker(
      run,
      'mass-basis-not-of-parcel',
      path,
      `The contract reckons on the ${basis} mass, which a ${run.input.parcel.kind} parcel does not have.`,
    );
    return null;
  }
  if (mass.unit === unit) return mass;
  const known = run.massesFor.get(`${basis}/${unit}`);
  if (known !== undefined) return known;
  const conversion = massConversion(mass.unit as MassUnit, unit);
  const one = convert(new Dec(1), conversion, run.terms.factors);
  // Of a number in decimal digits the exponent is the whole part of its logarithm.
  const shift = Math.max(0, -one.e);
  const rounding = {
    ...run.terms.rounding.mass,
    multipleOf: null,
    decimals: run.terms.rounding.mass.decimals + shift,
  };
  const converted = figure(convert(mass.value, conversion, run.terms.factors), rounding, unit);
  const plainShift = Object.values(conversion.factors).every((power) => power === 0);
  if (!plainShift) {
    addLine(run, {
      id: `weights/${basis}/${unit.replaceAll(' ', '-')}`,
      section: 'weights',
      label: `${BASIS_WORDS[basis]} in ${unit}`,
      working: `${shown(mass)}${conversionText(conversion, run.terms.factors)} = ${shown(converted)}`,
      quantity: mass,
      result: converted,
    });
  }
  run.massesFor.set(`${basis}/${unit}`, converted);
  return converted;
}

/** How a mass basis stands at the head of a line. */
export const BASIS_WORDS: Record<MassBasis, string> = {
  gross: 'Gross mass',
  wet: 'Wet mass',
  moisture: 'Mass of moisture',
  dry: 'Dry mass',
  received: 'Mass as received',
  settlement: 'Settlement mass',
};

/** A text made fit for a line id: `Claim owner` gives `claim-owner`. */
export const slug = keptByText((text) =>
  text
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}]+/gu, '-')
    .replaceAll(/^-+|-+$/g, ''),
);
