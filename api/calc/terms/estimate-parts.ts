import { Dec } from '../money.ts';
import type { BracketLadder, Escalator, Ladder, MarginalLadder, ShortfallLadder } from './charge-terms.ts';
import { convert, gradeConversion, massConversion, metalConversion } from './conversion.ts';
import type { PayableForm, PriceBasis, SimplePayableForm, SlidingForm } from './metal-terms.ts';
import { MOISTURE, type GradeUnit, type MassBasis, type MassUnit, type PriceUnit } from './term-units.ts';
import type { Terms } from './terms.ts';

/** One parcel of a simulation. */
export interface EstimateParcel {
  /** Wet mass; for doré the mass of the bars as received. */
  wetMassKg: number;
  /** Dry mass; for doré the mass of the bars after melting. */
  dryMassKg: number;
  /** Au and Ag in g/t (fineness × 1,000 g/t per mille), all others as mass fraction 0 to 1. */
  assays: Record<string, number>;
  /** In the contract's currency per the contract's price unit. */
  prices: Record<string, number>;
  /** Sublots or bars, 1 if not stated. */
  pieces?: number;
}

export type FromParcel = (parcel: EstimateParcel) => number;

/** A contract's decimal text as a number. */
export function num(text: string): number {
  return Number(text);
}

export function massGetter(terms: Terms, basis: MassBasis, unit: MassUnit): FromParcel {
  const factor = convert(new Dec(1), massConversion('kg', unit), terms.factors).toNumber();
  const { weights } = terms;
  if (weights.kind === 'melt') {
    const received = basis === 'received' || weights.massOfRecord === 'received';
    return (parcel) => (received ? parcel.wetMassKg : parcel.dryMassKg) * factor;
  }
  const keep = factor * (1 - num(weights.franchiseFrac));
  if (basis === 'settlement') return (parcel) => parcel.dryMassKg * keep;
  if (basis === 'dry') return (parcel) => parcel.dryMassKg * factor;
  if (basis === 'moisture') return (parcel) => (parcel.wetMassKg - parcel.dryMassKg) * factor;
  return (parcel) => parcel.wetMassKg * factor;
}

/** The assay of an element in a unit; NaN where the parcel does not state it. */
export function assayGetter(terms: Terms, element: string, unit: GradeUnit): FromParcel {
  if (element === MOISTURE) {
    const factor = convert(new Dec(100), gradeConversion('percent', unit), terms.factors).toNumber();
    return (parcel) => (1 - parcel.dryMassKg / parcel.wetMassKg) * factor;
  }
  const precious = element === 'Au' || element === 'Ag';
  const perUnit = convert(new Dec(1), gradeConversion('g/t', unit), terms.factors).toNumber();
  const factor = precious ? perUnit : perUnit * 1e6;
  return (parcel) => (parcel.assays[element] ?? Number.NaN) * factor;
}

export function metalFactor(terms: Terms, mass: MassUnit, grade: GradeUnit, metal: PriceUnit): number {
  return convert(new Dec(1), metalConversion(mass, grade, metal), terms.factors).toNumber();
}

/** The contract's fixed price, that of the parcel's grade, or the parcel's; NaN where it states none. */
export function priceGetter(terms: Terms, metal: string): FromParcel {
  const basis = terms.metals.find((m) => m.metal === metal)?.price;
  if (basis?.basis.kind === 'by-grade') {
    const unit = terms.assays.find((rule) => rule.element === metal)?.unit ?? 'g/t';
    const grade = assayGetter(terms, metal, unit);
    const price = compileBracket({
      kind: 'bracket',
      brackets: basis.basis.steps.map((step) => ({
        from: step.fromGrade,
        reachedAt: 'level',
        rate: step.price,
      })),
    });
    return (parcel) => price(grade(parcel));
  }
  const foreign = basis?.currency !== null && basis?.currency !== terms.currency;
  if (basis?.basis.kind === 'fixed' && !foreign) {
    const price = num(basis.basis.price);
    return () => price;
  }
  const counted = basis?.basis.kind === 'choice' ? countedFrac(basis.basis) : 1;
  return (parcel) => (parcel.prices[metal] ?? Number.NaN) * counted;
}

/** Of a price to be chosen from several: one price stands for all of them, so only their parts tell them apart. */
function countedFrac({ rule, options }: Extract<PriceBasis, { kind: 'choice' }>): number {
  const parts = options.map((option) => num(option.paidFrac));
  if (rule === 'mean') return parts.reduce((sum, part) => sum + part, 0) / parts.length;
  return rule === 'highest' || rule === 'seller-option' ? Math.max(...parts) : Math.min(...parts);
}

function compileSimple(form: SimplePayableForm): (grade: number) => number {
  const p = num(form.paidFrac);
  const d = num(form.deduction);
  switch (form.kind) {
    case 'lesser-of':
      return (grade) => Math.max(0, Math.min(p * grade, grade - d));
    case 'unit-then-percent':
      return (grade) => Math.max(0, (grade - d) * p);
    case 'percent-then-unit':
      return (grade) => Math.max(0, p * grade - d);
  }
}

/** Payable grade of a grade, both in the assay's unit; `chooser` is the grade that chooses or slides, where it is another. */
export function compileForm(form: PayableForm): (grade: number, chooser: number) => number {
  if (form.kind === 'sliding') return compileSliding(form);
  if (form.kind === 'steps') {
    const from = form.steps.map((step) => reached(step.fromGrade));
    const forms = form.steps.map((step) => compileSimple(step.form));
    return (grade, chooser) => {
      let last = -1;
      for (let i = 0; i < from.length && chooser >= from[i]!; i += 1) last = i;
      return Number.isNaN(grade + chooser) ? Number.NaN : last < 0 ? 0 : forms[last]!(grade);
    };
  }
  if (form.kind === 'bands') {
    return compileMarginal({
      kind: 'marginal',
      counting: 'pro-rata',
      bands: form.bands.map((band) => ({ from: band.fromGrade, step: '1', rate: band.paidFrac })),
    });
  }
  return compileSimple(form);
}

function compileSliding(form: SlidingForm): (grade: number, chooser: number) => number {
  const isPaid = form.slides === 'paidFrac';
  const from = num(form.fromGrade);
  const step = num(form.step);
  const change = num(form.change);
  const least = form.minimum === null ? 0 : num(form.minimum);
  const most = form.maximum === null ? (isPaid ? 1 : Infinity) : num(form.maximum);
  const start = num(isPaid ? form.form.paidFrac : form.form.deduction);
  const whole = form.counting === 'whole-steps';
  return (grade, chooser) => {
    const exact = (chooser - from) / step;
    const steps = whole ? Math.sign(exact) * Math.floor(Math.abs(exact) + STEP_TOLERANCE) : exact;
    const raw = start + steps * change;
    const figure = raw < least ? least : Math.min(raw, most);
    const p = isPaid ? figure : num(form.form.paidFrac);
    const d = isPaid ? num(form.form.deduction) : figure;
    if (form.form.kind === 'lesser-of') return Math.max(0, Math.min(p * grade, grade - d));
    return Math.max(0, form.form.kind === 'unit-then-percent' ? (grade - d) * p : p * grade - d);
  };
}

/** Binary fractions just beside a whole step count as the whole step. */
const STEP_TOLERANCE = 1e-9;
/** And just beside a level as the level: relative to it. */
const LEVEL_TOLERANCE = 1e-12;

/** A level that a decimal figure at or above it reaches, in spite of binary fractions. */
export function reached(level: string): number {
  return num(level) * (1 - LEVEL_TOLERANCE);
}

function compileMarginal(ladder: MarginalLadder | ShortfallLadder): (level: number) => number {
  const sign = ladder.kind === 'shortfall' ? -1 : 1;
  const from = ladder.bands.map((band) => sign * num(band.from));
  const step = ladder.bands.map((band) => num(band.step));
  const rate = ladder.bands.map((band) => num(band.rate));
  const { counting } = ladder;
  return (level) => {
    if (Number.isNaN(level)) return level;
    let sum = 0;
    for (let i = 0; i < from.length; i += 1) {
      const end = i + 1 < from.length ? Math.min(sign * level, from[i + 1]!) : sign * level;
      if (end <= from[i]!) break;
      const steps = (end - from[i]!) / step[i]!;
      if (counting === 'pro-rata') sum += steps * rate[i]!;
      else if (counting === 'whole-steps') sum += Math.floor(steps + STEP_TOLERANCE) * rate[i]!;
      else sum += Math.ceil(steps - STEP_TOLERANCE) * rate[i]!;
    }
    return sum;
  };
}

export function compileBracket(ladder: BracketLadder): (level: number) => number {
  const above = ladder.brackets.map((bracket) => bracket.reachedAt === 'above');
  const from = ladder.brackets.map((bracket, i) =>
    above[i] === true ? num(bracket.from) * (1 + LEVEL_TOLERANCE) : reached(bracket.from),
  );
  const rate = ladder.brackets.map((bracket) => num(bracket.rate));
  return (level) => {
    if (Number.isNaN(level)) return level;
    let found = 0;
    for (let i = 0; i < from.length; i += 1) {
      if (above[i] === true ? level > from[i]! : level >= from[i]!) found = rate[i]!;
    }
    return found;
  };
}

export function compileLadder(ladder: Ladder): (level: number) => number {
  return ladder.kind === 'bracket' ? compileBracket(ladder) : compileMarginal(ladder);
}

/** Change of a rate by all its escalators together, each within its caps. */
export function compileEscalators(terms: Terms, escalators: Escalator[]): FromParcel {
  const parts = escalators.map((escalator) => {
    const price = priceGetter(terms, escalator.metal);
    const up = escalator.up === null ? () => 0 : compileMarginal(escalator.up);
    const down = escalator.down === null ? () => 0 : compileMarginal(escalator.down);
    const most = escalator.maximumIncrease === null ? Infinity : num(escalator.maximumIncrease);
    const least = escalator.maximumDecrease === null ? Infinity : num(escalator.maximumDecrease);
    return (parcel: EstimateParcel) => {
      const at = price(parcel);
      return Math.min(most, up(at)) - Math.min(least, down(at));
    };
  });
  return (parcel) => {
    let change = 0;
    for (const part of parts) change += part(parcel);
    return change;
  };
}
