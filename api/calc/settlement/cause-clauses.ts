import type { Charge, Ladder } from '../terms/charge-terms.ts';
import { percentText } from '../terms/payable-form.ts';
import type { MassBasis } from '../terms/term-units.ts';
import type { Terms } from '../terms/terms.ts';
import { replaced, type Reading } from './hypothesis.ts';

const COUNTINGS = ['pro-rata', 'whole-steps', 'started-steps'] as const;
const COUNTING_WORDS = {
  'pro-rata': 'in proportion',
  'whole-steps': 'by whole steps only',
  'started-steps': 'by started steps',
} as const;

function otherLadders(ladder: Ladder): { words: string; ladder: Ladder }[] {
  if (ladder.kind === 'bracket') return [];
  const [first] = ladder.bands;
  return [
    ...COUNTINGS.filter((counting) => counting !== ladder.counting).map((counting) => ({
      words: COUNTING_WORDS[counting],
      ladder: { ...ladder, counting },
    })),
    ...(first === undefined || ladder.kind === 'shortfall'
      ? []
      : [
          {
            words: 'from zero, without the free level',
            ladder: { ...ladder, bands: [{ ...first, from: '0' }, ...ladder.bands.slice(1)] },
          },
        ]),
    ...(ladder.bands.length > 1 && first !== undefined
      ? [{ words: 'at the first band throughout', ladder: { ...ladder, bands: [first] } }]
      : []),
  ];
}

/** Penalties and credits counted otherwise, on another mass, or left out. */
export function* ladderReadings(terms: Terms): Generator<Reading> {
  for (const [index, penalty] of terms.penalties.entries()) {
    for (const { words, ladder } of otherLadders(penalty.ladder)) {
      const penalties = replaced(terms.penalties, index, { ...penalty, ladder });
      yield ['other-step-counting', `They count ${penalty.name} ${words}.`, { penalties }];
    }
    for (const basis of basesOf(terms).filter((one) => one !== penalty.basis)) {
      const penalties = replaced(terms.penalties, index, { ...penalty, basis });
      yield [
        'other-mass-basis',
        `They reckon ${penalty.name} on the ${basis} mass, the contract on the ${penalty.basis} mass.`,
        { penalties },
      ];
    }
    const penalties = terms.penalties.filter((one) => one !== penalty);
    yield ['penalty-left-out', `They do not charge ${penalty.name}.`, { penalties }];
  }
  for (const [index, credit] of terms.credits.entries()) {
    if (credit.kind === 'component') {
      for (const { words, ladder } of otherLadders(credit.ladder)) {
        const credits = replaced(terms.credits, index, { ...credit, ladder });
        yield ['other-step-counting', `They count ${credit.name} ${words}.`, { credits }];
      }
    }
    yield [
      'credit-left-out',
      `They do not credit ${credit.name}.`,
      { credits: terms.credits.filter((one) => one !== credit) },
    ];
  }
}

function basesOf({ weights }: Terms): MassBasis[] {
  return weights.kind === 'dry' ? ['gross', 'wet', 'dry', 'settlement'] : ['received', 'settlement'];
}

/** Charges on another mass, without escalator, cap or minimum, or left out. */
export function* chargeReadings(terms: Terms): Generator<Reading> {
  for (const [index, charge] of terms.charges.entries()) {
    for (const [code, words, other] of otherCharges(terms, charge)) {
      yield [code, `${charge.name}: ${words}.`, { charges: replaced(terms.charges, index, other) }];
    }
    yield [
      'charge-left-out',
      `They do not charge ${charge.name}.`,
      { charges: terms.charges.filter((one) => one !== charge) },
    ];
  }
  if (terms.minimumCharges !== null) {
    yield ['minimum-left-out', 'They do not apply the least sum of charges.', { minimumCharges: null }];
  }
}

function* otherCharges(terms: Terms, charge: Charge): Generator<[string, string, Charge]> {
  if (
    charge.kind === 'per-mass' ||
    charge.kind === 'by-value' ||
    charge.kind === 'per-started-lot' ||
    charge.kind === 'by-level'
  ) {
    for (const basis of basesOf(terms).filter((one) => one !== charge.basis)) {
      yield [
        'other-mass-basis',
        `they reckon on the ${basis} mass, the contract on the ${charge.basis} mass`,
        { ...charge, basis },
      ];
    }
    for (const unit of (['tonne', 'short ton', 'long ton'] as const).filter((one) => one !== charge.unit)) {
      if (terms.weights.kind === 'dry') {
        yield [
          'other-mass-unit',
          `they charge per ${unit}, the contract per ${charge.unit}`,
          { ...charge, unit },
        ];
      }
    }
  }
  if (charge.kind === 'by-level') {
    for (const { words, ladder } of otherLadders(charge.ladder)) {
      yield ['other-step-counting', `they count ${words}`, { ...charge, ladder }];
    }
    if (charge.ladder.kind === 'bracket') {
      for (const { from, rate } of charge.ladder.brackets) {
        const brackets = [{ from: '0', reachedAt: 'level' as const, rate }];
        const words = `they take the rate of the bracket from ${from}`;
        yield ['other-bracket', words, { ...charge, ladder: { ...charge.ladder, brackets } }];
      }
    }
  }
  if (charge.kind === 'per-mass' && charge.escalators.length > 0) {
    yield ['escalator-left-out', 'they leave the escalator out', { ...charge, escalators: [] }];
    const uncapped = charge.escalators.map((e) => ({ ...e, maximumIncrease: null, maximumDecrease: null }));
    yield ['escalator-without-cap', 'they do not cap the escalator', { ...charge, escalators: uncapped }];
  }
  if (
    (charge.kind === 'per-mass' || charge.kind === 'by-level' || charge.kind === 'share-of-value') &&
    charge.minimum !== null
  ) {
    yield ['minimum-left-out', 'they leave the minimum out', { ...charge, minimum: null }];
  }
  if (charge.kind === 'share-of-value' && Number(charge.ofFrac) !== 1) {
    yield [
      'other-share',
      `they reckon on the value itself, the contract on ${percentText(charge.ofFrac)} of it`,
      { ...charge, ofFrac: '1' },
    ];
  }
  if (charge.kind === 'flat') {
    const per = charge.per === 'parcel' ? 'piece' : 'parcel';
    yield [
      'other-count',
      `they charge it per ${per === 'piece' ? 'sublot or bar' : 'parcel'}`,
      { ...charge, per },
    ];
    if (charge.onlyBelow !== null) {
      yield ['charged-above-limit', 'they charge it whatever the mass', { ...charge, onlyBelow: null }];
    }
  }
}
