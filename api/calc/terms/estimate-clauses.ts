import type { Charge, Credit, Ladder } from './charge-terms.ts';
import {
  assayGetter,
  compileBracket,
  compileEscalators,
  compileLadder,
  massGetter,
  metalFactor,
  num,
  priceGetter,
  reached,
  type EstimateParcel,
  type FromParcel,
} from './estimate-parts.ts';
import type { GradeUnit, MassBasis, MassUnit } from './term-units.ts';
import type { Terms } from './terms.ts';

function exchanged(terms: Terms, currency: string | null, rates: Record<string, number>): number {
  return currency === null || currency === terms.currency ? 1 : (rates[currency] ?? Number.NaN);
}

/** A charge as a function of the parcel and its payable value. */
export function compileCharge(
  terms: Terms,
  charge: Charge,
  rates: Record<string, number>,
): (parcel: EstimateParcel, payable: number) => number {
  const exchange = exchanged(terms, charge.currency, rates);
  switch (charge.kind) {
    case 'per-mass': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const change = compileEscalators(terms, charge.escalators);
      const rate = num(charge.rate) * exchange;
      const least = charge.minimum === null ? -Infinity : num(charge.minimum) * exchange;
      return (parcel) => Math.max(least, mass(parcel) * (rate + change(parcel)));
    }
    case 'flat': {
      const amount = num(charge.amount) * exchange;
      const limit = charge.onlyBelow === null ? Infinity : reached(charge.onlyBelow.mass);
      const mass =
        charge.onlyBelow === null
          ? () => -Infinity
          : massGetter(terms, charge.onlyBelow.basis, charge.onlyBelow.unit);
      const perPiece = charge.per === 'piece';
      return (parcel) => (mass(parcel) >= limit ? 0 : perPiece ? amount * (parcel.pieces ?? 1) : amount);
    }
    case 'per-started-lot': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const size = num(charge.mass);
      const amount = num(charge.amount) * exchange;
      return (parcel) => {
        const lots = mass(parcel) / size;
        // What the binary fraction is over a whole number of lots by chance of its digits starts no further lot.
        return Math.ceil(lots - 1e-9 * Math.max(1, lots)) * amount;
      };
    }
    case 'by-value': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const bracket = compileBracket(charge.brackets);
      return (parcel, payable) => {
        const charged = mass(parcel);
        return charged === 0 ? 0 : charged * bracket(payable / charged) * exchange;
      };
    }
    case 'by-level': {
      const mass = massGetter(terms, charge.basis, charge.unit);
      const ladder = compileLadder(charge.ladder);
      const level =
        charge.level.kind === 'price'
          ? priceGetter(terms, charge.level.metal)
          : charge.level.kind === 'mass'
            ? massGetter(terms, charge.level.basis, charge.level.unit)
            : levelGetter(terms, charge.level);
      const least = charge.minimum === null ? -Infinity : num(charge.minimum) * exchange;
      return (parcel) => Math.max(least, mass(parcel) * ladder(level(parcel)) * exchange);
    }
    case 'share-of-value': {
      const share = num(charge.shareFrac) * num(charge.ofFrac);
      const least = charge.minimum === null ? -Infinity : num(charge.minimum) * exchange;
      return (_parcel, payable) => Math.max(least, payable * share);
    }
  }
}

interface OnElements {
  elements: string[];
  unit: GradeUnit;
  ladder: Ladder;
  basis: MassBasis;
  massUnit: MassUnit;
}

/** Sum of the assays of the elements, in the clause's unit. */
export function levelGetter(terms: Terms, clause: Pick<OnElements, 'elements' | 'unit'>): FromParcel {
  const assays = clause.elements.map((element) => assayGetter(terms, element, clause.unit));
  return (parcel) => {
    let level = 0;
    for (const assay of assays) level += assay(parcel);
    return level;
  };
}

/** Penalty or credit on the assays of one or more elements. */
export function compileComponent(terms: Terms, clause: OnElements): FromParcel {
  const level = levelGetter(terms, clause);
  const ladder = compileLadder(clause.ladder);
  const mass = massGetter(terms, clause.basis, clause.massUnit);
  return (parcel) => mass(parcel) * ladder(level(parcel));
}

export function compileCredit(terms: Terms, credit: Credit): FromParcel {
  if (credit.kind === 'component') return compileComponent(terms, credit);
  if (credit.kind === 'per-mass') {
    const mass = massGetter(terms, credit.basis, credit.massUnit);
    const rate = num(credit.rate);
    return (parcel) => mass(parcel) * rate;
  }
  const mass = massGetter(terms, 'settlement', credit.massUnit);
  const parts = credit.metals.map((symbol) => {
    const unit = terms.assays.find((r) => r.element === symbol)?.unit ?? 'g/t';
    const priceUnit = terms.metals.find((m) => m.metal === symbol)?.price.unit ?? 'ozt';
    const factor = metalFactor(terms, credit.massUnit, unit, priceUnit);
    return { assay: assayGetter(terms, symbol, unit), price: priceGetter(terms, symbol), factor };
  });
  const above = num(credit.above);
  const share = num(credit.shareFrac);
  return (parcel) => {
    let value = 0;
    for (const part of parts) value += part.assay(parcel) * part.factor * part.price(parcel);
    return mass(parcel) * Math.max(0, value - above) * share;
  };
}
