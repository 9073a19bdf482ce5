import { constant, Dec, grouped, type DecimalNumber } from '../money.ts';
import type { ContractFactors } from './terms.ts';
import type { GradeUnit, MassUnit, PriceUnit } from './term-units.ts';

/**
 * A conversion as powers of ten and of the contract's own factors, so that it can
 * be worked exactly and printed as the shortest row of × and ÷.
 */
export interface Conversion {
  ten: number;
  factors: Partial<Record<keyof ContractFactors, number>>;
}

const TONNE_FROM: Record<MassUnit, Conversion> = {
  tonne: { ten: 0, factors: {} },
  kg: { ten: -3, factors: {} },
  g: { ten: -6, factors: {} },
  lb: { ten: 0, factors: { poundsPerTonne: -1 } },
  'short ton': { ten: 0, factors: { shortTonsPerTonne: -1 } },
  'long ton': { ten: 0, factors: { longTonsPerTonne: -1 } },
  ozt: { ten: -6, factors: { ounceG: 1 } },
};

const FRACTION_FROM: Record<GradeUnit, Conversion> = {
  percent: { ten: -2, factors: {} },
  fineness: { ten: -3, factors: {} },
  'g/t': { ten: -6, factors: {} },
  ppm: { ten: -6, factors: {} },
  'oz/t': { ten: -6, factors: { ounceG: 1 } },
  'oz/short ton': { ten: -6, factors: { ounceG: 1, shortTonsPerTonne: 1 } },
  'oz/long ton': { ten: -6, factors: { ounceG: 1, longTonsPerTonne: 1 } },
};

/** Conversions one after the other. */
export function combine(...conversions: Conversion[]): Conversion {
  const all: Conversion = { ten: 0, factors: {} };
  for (const { ten, factors } of conversions) {
    all.ten += ten;
    for (const name of Object.keys(factors) as (keyof ContractFactors)[]) {
      all.factors[name] = (all.factors[name] ?? 0) + (factors[name] ?? 0);
    }
  }
  return all;
}

function inverse({ ten, factors }: Conversion): Conversion {
  return {
    ten: 0 - ten,
    factors: Object.fromEntries(Object.entries(factors).map(([name, power]) => [name, -power])),
  };
}

/** Conversions made so far, by their units: every parcel asks for the same few. */
const made = new Map<string, Conversion>();

function madeOnce(units: string, make: () => Conversion): Conversion {
  let conversion = made.get(units);
  if (conversion === undefined) {
    conversion = make();
    made.set(units, conversion);
  }
  return conversion;
}

/** Mass in one unit to mass in another. */
export function massConversion(from: MassUnit, to: MassUnit): Conversion {
  return madeOnce(`${from}>${to}`, () => combine(TONNE_FROM[from], inverse(TONNE_FROM[to])));
}

/** Grade in one unit to grade in another. */
export function gradeConversion(from: GradeUnit, to: GradeUnit): Conversion {
  return madeOnce(`${from}:${to}`, () => combine(FRACTION_FROM[from], inverse(FRACTION_FROM[to])));
}

/** Mass × grade to metal in the unit its price is for; a 'unit' is one percent of a tonne. */
export function metalConversion(mass: MassUnit, grade: GradeUnit, metal: PriceUnit): Conversion {
  return madeOnce(`${mass}×${grade}>${metal}`, () => {
    const perTonne = metal === 'unit' ? { ten: 2, factors: {} } : inverse(TONNE_FROM[metal]);
    return combine(TONNE_FROM[mass], FRACTION_FROM[grade], perTonne);
  });
}

/** Powers of ten by their exponent; made once, because every line of a settlement asks for them. */
const TENS = Array.from({ length: 13 }, (_, power) => new Dec(`1e${power}`));
const TENTHS = Array.from({ length: 13 }, (_, power) => new Dec(`1e-${power}`));

function timesTen(value: DecimalNumber, power: number): DecimalNumber {
  if (power === 0) return value;
  return value.times((power > 0 ? TENS[power] : TENTHS[-power]) ?? new Dec(10).pow(power));
}

/** Value × conversion, multiplied out before it is divided. */
export function convert(
  value: DecimalNumber,
  conversion: Conversion,
  factors: ContractFactors,
): DecimalNumber {
  let above = value;
  let below: DecimalNumber | null = null;
  for (const name in conversion.factors) {
    const factorName = name as keyof ContractFactors;
    const power = conversion.factors[factorName] ?? 0;
    if (power === 0) continue;
    const once = constant(factors[factorName]);
    const factor = Math.abs(power) === 1 ? once : once.pow(Math.abs(power));
    if (power > 0) above = above.times(factor);
    else below = below === null ? factor : below.times(factor);
  }
  if (below === null) return timesTen(above, conversion.ten);
  return conversion.ten >= 0
    ? timesTen(above, conversion.ten).div(below)
    : above.div(timesTen(below, -conversion.ten));
}

/**
 * The conversion as it prints behind a figure, for example ` ÷ 1,000 ÷ 31.1034768`;
 * `percentSigns` is how many of the figures before it carry a percent sign.
 */
export function conversionText(conversion: Conversion, factors: ContractFactors, percentSigns = 0): string {
  let text = '';
  const ten = conversion.ten + 2 * percentSigns;
  if (ten !== 0) text += ` ${ten > 0 ? '×' : '÷'} ${grouped(`1${'0'.repeat(Math.abs(ten))}`)}`;
  for (const name in conversion.factors) {
    const factorName = name as keyof ContractFactors;
    const power = conversion.factors[factorName] ?? 0;
    for (let times = 0; times < Math.abs(power); times += 1) {
      text += ` ${power > 0 ? '×' : '÷'} ${factors[factorName]}`;
    }
  }
  return text;
}
