import { grouped } from '../money.ts';
import type {
  Charge,
  Credit,
  Escalator,
  Ladder,
  MarginalLadder,
  Penalty,
  ShortfallLadder,
} from './charge-terms.ts';
import { percentText } from './payable-form.ts';
import type { MassBasis } from './term-units.ts';
import type { Terms } from './terms.ts';
import { list } from './words.ts';

const BASIS: Record<MassBasis, string> = {
  gross: 'gross mass',
  wet: 'wet mass',
  moisture: 'moisture',
  dry: 'dry mass',
  received: 'mass as received',
  settlement: 'settlement mass',
};

const COUNTING: Record<MarginalLadder['counting'], string> = {
  'pro-rata': 'fractions in proportion',
  'whole-steps': 'whole steps only',
  'started-steps': 'a started step counted whole',
};

function ladderWords(ladder: Ladder, unit: string, money: string): string {
  if (ladder.kind !== 'bracket') {
    const side = ladder.kind === 'marginal' ? 'above' : 'below';
    const bands = ladder.bands.map(
      (band) => `${grouped(band.rate)} ${money} for every ${band.step} ${unit} ${side} ${band.from}`,
    );
    return `${list(bands)}, ${COUNTING[ladder.counting]}`;
  }
  const brackets = ladder.brackets.map(
    (bracket) =>
      `${grouped(bracket.rate)} ${money} ${bracket.reachedAt === 'level' ? 'from' : 'above'} ${bracket.from} ${unit}`,
  );
  return `${list(brackets)}, the rate of the bracket reached counting for the whole`;
}

export function chargeSentence(charge: Charge, terms: Terms): string {
  const currency = charge.currency ?? terms.currency;
  switch (charge.kind) {
    case 'per-mass': {
      const least = charge.minimum === null ? '' : `, at least ${grouped(charge.minimum)} ${currency}`;
      return `${charge.name}: ${grouped(charge.rate)} ${currency} per ${charge.unit} of ${BASIS[charge.basis]}${least}.`;
    }
    case 'flat': {
      const per = charge.per === 'parcel' ? 'a parcel' : 'each sublot or bar';
      const when =
        charge.onlyBelow === null
          ? ''
          : `, only below ${charge.onlyBelow.mass} ${charge.onlyBelow.unit} of ${BASIS[charge.onlyBelow.basis]}`;
      return `${charge.name}: ${grouped(charge.amount)} ${currency} for ${per}${when}.`;
    }
    case 'per-started-lot':
      return `${charge.name}: ${grouped(charge.amount)} ${currency} for every started ${charge.mass} ${charge.unit} of ${BASIS[charge.basis]}.`;
    case 'by-value':
      return `${charge.name}: per ${charge.unit} of ${BASIS[charge.basis]}, by payable value: ${ladderWords(charge.brackets, `${terms.currency}/${charge.unit}`, currency)}.`;
    case 'by-level': {
      const { level } = charge;
      const priceUnit =
        level.kind === 'price' ? (terms.metals.find((m) => m.metal === level.metal)?.price.unit ?? '') : '';
      const by =
        level.kind === 'price'
          ? `the price of ${level.metal}`
          : level.kind === 'mass'
            ? `the ${BASIS[level.basis]}`
            : `the grade of ${list(level.elements)}`;
      const unit = level.kind === 'price' ? `${terms.currency}/${priceUnit}` : level.unit;
      const least = charge.minimum === null ? '' : `, at least ${grouped(charge.minimum)} ${currency}`;
      return `${charge.name}: per ${charge.unit} of ${BASIS[charge.basis]}, by ${by}: ${ladderWords(charge.ladder, unit, currency)}${least}.`;
    }
    case 'share-of-value': {
      const of = Number(charge.ofFrac) === 1 ? '' : ` of ${percentText(charge.ofFrac)}`;
      const least = charge.minimum === null ? '' : `, at least ${grouped(charge.minimum)} ${currency}`;
      return `${charge.name}: ${percentText(charge.shareFrac)}${of} of the payable value${least}.`;
    }
  }
}

export function escalatorSentence(escalator: Escalator, name: string, unit: string, terms: Terms): string {
  const priceUnit = terms.metals.find((m) => m.metal === escalator.metal)?.price.unit ?? '';
  const priced = `${terms.currency}/${priceUnit}`;
  const money = `${terms.currency}/${unit}`;
  const part = (ladder: MarginalLadder | ShortfallLadder, verb: string, side: string) =>
    `${verb} by ${list(
      ladder.bands.map(
        (band) =>
          `${grouped(band.rate)} ${money} for every ${band.step} ${priced} ${side} ${grouped(band.from)}`,
      ),
    )} (${COUNTING[ladder.counting]})`;
  const parts = [
    ...(escalator.up === null ? [] : [part(escalator.up, 'rises', 'above')]),
    ...(escalator.down === null ? [] : [part(escalator.down, 'falls', 'below')]),
    ...(escalator.maximumIncrease === null
      ? []
      : [`rises by no more than ${escalator.maximumIncrease} ${money}`]),
    ...(escalator.maximumDecrease === null
      ? []
      : [`falls by no more than ${escalator.maximumDecrease} ${money}`]),
  ];
  return `${name} moves with the price of ${escalator.metal}: it ${list(parts)}.`;
}

export function penaltySentence(penalty: Penalty, terms: Terms): string {
  const refused =
    penalty.refusedAbove === null
      ? ''
      : ` Above ${penalty.refusedAbove} ${penalty.unit} the parcel may be refused.`;
  return `${penalty.name} on ${list(penalty.elements)}: per ${penalty.massUnit} of ${BASIS[penalty.basis]} ${ladderWords(penalty.ladder, penalty.unit, terms.currency)}.${refused}`;
}

export function creditSentence(credit: Credit, terms: Terms): string {
  switch (credit.kind) {
    case 'component':
      return `${credit.name} for ${list(credit.elements)}: per ${credit.massUnit} of ${BASIS[credit.basis]} ${ladderWords(credit.ladder, credit.unit, terms.currency)}.`;
    case 'per-mass':
      return `${credit.name}: ${grouped(credit.rate)} ${terms.currency} per ${credit.massUnit} of ${BASIS[credit.basis]} is added.`;
    case 'assay-value':
      return `${credit.name}: ${percentText(credit.shareFrac)} of the value of ${list(credit.metals)} contained above ${grouped(credit.above)} ${terms.currency}/${credit.massUnit} is added.`;
  }
}
