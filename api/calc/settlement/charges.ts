import { Dec, type DecimalNumber } from '../money.ts';
import type { Charge } from '../terms/charge-terms.ts';
import { bracketAt, ladderRate } from '../terms/ladder.ts';
import { percentText } from '../terms/payable-form.ts';
import type { MassBasis } from '../terms/term-units.ts';
import { escalated } from './escalators.ts';
import { levelOf } from './components.ts';
import { bare, figure, given, shown, type Figure } from './figure.ts';
import { payableValue } from './payable-value.ts';
import { exchangeRate, quotedPrice } from './quoted-price.ts';
import { addLine, addProductLine, BASIS_WORDS, massFor, money, type SettlementRun } from './run.ts';

/** Treatment, freight and all other charges, each with its escalators and its own minimum. */
export function workCharges(run: SettlementRun): void {
  run.terms.charges.forEach((charge, index) => {
    workCharge(run, charge, chargeId(run, index), `/terms/charges/${index}`);
  });
}

/** `charges/treatment`, and `charges/treatment/2` for a second of the same purpose. */
function chargeId(run: SettlementRun, index: number): string {
  const purpose = run.terms.charges[index]?.purpose ?? 'other';
  const nth = run.terms.charges.slice(0, index + 1).filter((c) => c.purpose === purpose).length;
  return nth === 1 ? `charges/${purpose}` : `charges/${purpose}/${nth}`;
}

function workCharge(run: SettlementRun, charge: Charge, id: string, path: string) {
  const at = { id, section: 'charges' as const, label: charge.name };
  switch (charge.kind) {
    case 'per-mass': {
      const rate = inContractCurrency(run, charge, charge.rate, charge.unit);
      const mass = massFor(run, charge.basis, charge.unit, path);
      if (rate === null || mass === null) return;
      let sum = productCharge(run, at, charge.basis, mass, rate);
      for (const [index, escalator] of charge.escalators.entries()) {
        const change = escalated(run, escalator, charge.unit);
        if (change === null) return;
        const label = `${charge.name}: escalator on ${escalator.metal}`;
        sum = sum.plus(
          productCharge(
            run,
            { ...at, id: `${id}/escalator-${index + 1}`, label },
            charge.basis,
            mass,
            change,
          ),
        );
      }
      topUp(run, at, charge, sum);
      return;
    }
    case 'flat': {
      const amount = inContractCurrency(run, charge, charge.amount, null);
      if (amount === null) return;
      flatCharge(run, at, charge, amount, path);
      return;
    }
    case 'per-started-lot': {
      const amount = inContractCurrency(run, charge, charge.amount, 'lot');
      const mass = massFor(run, charge.basis, charge.unit, path);
      if (amount === null || mass === null) return;
      const lots = given(mass.value.div(charge.mass).ceil().toFixed(), 'lot');
      const why = `started lots of ${charge.mass} ${charge.unit} in ${shown(mass)}: `;
      addProductLine(run, { ...at, sign: -1, quantity: lots, rate: amount, why });
      return;
    }
    case 'by-value':
      byValueCharge(run, at, charge, path);
      return;
    case 'by-level':
      byLevelCharge(run, at, charge, path);
      return;
    case 'share-of-value': {
      const value = payableValue(run);
      if (value === null) return;
      const base = money(run, value);
      const of = new Dec(charge.ofFrac).eq(1) ? '' : ` × ${percentText(charge.ofFrac)}`;
      const share = money(run, base.value.times(charge.ofFrac).times(charge.shareFrac));
      const amount = share.value.neg();
      addLine(run, {
        ...at,
        working: `${shown(base)}${of} × ${percentText(charge.shareFrac)} = ${shown(share)}`,
        quantity: base,
        amount,
      });
      topUp(run, at, charge, amount);
    }
  }
}

type At = { id: string; section: 'charges'; label: string };

function productCharge(
  run: SettlementRun,
  at: At,
  basis: MassBasis,
  mass: Figure,
  rate: Figure,
): DecimalNumber {
  const { valuation } = run.terms;
  if (basis === 'settlement' && valuation.kind === 'per-tonne' && mass.unit === valuation.unit) {
    run.perTonneRates.push(rate.value.neg());
  }
  return addProductLine(run, { ...at, sign: -1, quantity: mass, rate });
}

/** Brings a charge up to its minimum; `sum` is what it came to, negative. */
function topUp(
  run: SettlementRun,
  at: At,
  charge: Charge & { minimum: string | null },
  sum: DecimalNumber,
): void {
  if (charge.minimum === null) return;
  const minimum = inContractCurrency(run, charge, charge.minimum, null, 'minimum');
  if (minimum === null || sum.neg().gte(minimum.value)) return;
  const charged = money(run, sum.neg());
  const least = money(run, minimum.value);
  const more = money(run, least.value.minus(charged.value));
  addLine(run, {
    ...at,
    id: `${at.id}/minimum`,
    label: `${at.label}: up to the minimum`,
    working: `${shown(least)} − ${shown(charged)} = ${shown(more)}`,
    amount: more.value.neg(),
  });
}

/** The rate as given, or exchanged into the contract's currency with its own line. */
function inContractCurrency(
  run: SettlementRun,
  charge: Charge,
  text: string,
  unit: string | null,
  part = 'rate',
): Figure | null {
  const per = unit === null ? '' : `/${unit}`;
  if (charge.currency === null || charge.currency === run.terms.currency) {
    return given(text, `${run.terms.currency}${per}`);
  }
  const rate = exchangeRate(run, charge.currency);
  if (rate === null) return null;
  const foreign = given(text, `${charge.currency}${per}`);
  const rounding = unit === null ? run.terms.rounding.money : run.terms.rounding.perTonneValue;
  const converted = figure(foreign.value.times(rate.value), rounding, `${run.terms.currency}${per}`);
  const nth = run.terms.charges.indexOf(charge) + 1;
  addLine(run, {
    id: `prices/charge-${nth}/${part}`,
    section: 'prices',
    label: `${charge.name} in ${run.terms.currency}`,
    working: `${shown(foreign)} × ${shown(rate)} = ${shown(converted)}`,
    quantity: foreign,
    rate,
    result: converted,
  });
  return converted;
}

function flatCharge(
  run: SettlementRun,
  at: At,
  charge: Extract<Charge, { kind: 'flat' }>,
  amount: Figure,
  path: string,
) {
  let why = '';
  if (charge.onlyBelow !== null) {
    const { basis, unit, mass: limit } = charge.onlyBelow;
    const mass = massFor(run, basis, unit, path);
    if (mass === null || mass.value.gte(limit)) return;
    why = `${BASIS_WORDS[basis].toLowerCase()} of ${shown(mass)} is below ${limit} ${unit}: `;
  }
  if (charge.per === 'parcel') {
    const charged = money(run, amount.value);
    addLine(run, { ...at, working: `${why}${shown(charged)}`, amount: charged.value.neg() });
    return;
  }
  const piece = run.input.parcel.kind === 'dore' ? 'bar' : 'sublot';
  const pieces = given(String(run.pieces.length), piece);
  addProductLine(run, {
    ...at,
    sign: -1,
    quantity: pieces,
    rate: { ...amount, unit: `${run.terms.currency}/${piece}` },
    why,
  });
}

function byValueCharge(
  run: SettlementRun,
  at: At,
  charge: Extract<Charge, { kind: 'by-value' }>,
  path: string,
) {
  const value = payableValue(run);
  const mass = massFor(run, charge.basis, charge.unit, path);
  if (value === null || mass === null || mass.value.isZero()) return;
  const base = money(run, value);
  const perUnit = money(run, value.div(mass.value));
  const bracket = bracketAt(charge.brackets, perUnit.text);
  addLine(run, {
    ...at,
    id: `${at.id}/value`,
    label: `${charge.name}: value per ${charge.unit}`,
    working: `${shown(base)} ÷ ${shown(mass)} = ${bare(perUnit)} ${run.terms.currency}/${charge.unit}`,
    quantity: base,
    result: { ...perUnit, unit: `${run.terms.currency}/${charge.unit}` },
  });
  const rate = inContractCurrency(run, charge, bracket?.rate ?? '0', charge.unit);
  if (rate === null) return;
  addProductLine(run, { ...at, sign: -1, quantity: mass, rate });
}

/** A rate per mass that a grade or a price chooses, worked on a line of its own. */
function byLevelCharge(
  run: SettlementRun,
  at: At,
  charge: Extract<Charge, { kind: 'by-level' }>,
  path: string,
) {
  const level = chargeLevel(run, at, charge, path);
  const mass = massFor(run, charge.basis, charge.unit, path);
  if (level === null || mass === null) return;
  const { rate, expression } = ladderRate(charge.ladder, level.text);
  const currency = charge.currency ?? run.terms.currency;
  const perMass = figure(rate, run.terms.rounding.perTonneValue, `${currency}/${charge.unit}`);
  addLine(run, {
    ...at,
    id: `${at.id}/rate`,
    label: `${at.label}: rate at ${shown(level)}`,
    working:
      charge.ladder.kind === 'bracket'
        ? `${rate.isZero() ? 'no bracket is reached' : 'the rate of its bracket'}: ${shown(perMass)}`
        : `${expression === '0' ? 'no level is reached: ' : ''}${expression} = ${shown(perMass)}`,
    quantity: level,
    result: perMass,
  });
  const exchanged = inContractCurrency(run, charge, perMass.text, charge.unit);
  if (exchanged === null) return;
  topUp(run, at, charge, productCharge(run, at, charge.basis, mass, exchanged));
}

function chargeLevel(
  run: SettlementRun,
  { id, label }: At,
  { level }: Extract<Charge, { kind: 'by-level' }>,
  path: string,
): Figure | null {
  if (level.kind === 'price') return quotedPrice(run, level.metal);
  if (level.kind === 'mass') return massFor(run, level.basis, level.unit, path);
  const assays = level.elements.map((element) => run.assays.get(element));
  const known = assays.filter((assay) => assay !== undefined);
  if (known.length < assays.length) return null;
  return levelOf(run, { id, section: 'charges', name: label, ...level }, known);
}
