import type { Charge, Penalty } from '../terms/charge-terms.ts';
import type { MetalTerms } from '../terms/metal-terms.ts';
import { MOISTURE, type MassBasis } from '../terms/term-units.ts';
import type { Terms } from '../terms/terms.ts';
import type { Reading } from './hypothesis.ts';

const COUNTING_WORDS = {
  'pro-rata': 'in proportion',
  'whole-steps': 'by whole steps only',
  'started-steps': 'by started steps',
} as const;

/** One habit of theirs that changes several clauses at once; tried after each clause by itself. */
export function* readingsTogether(terms: Terms): Generator<Reading> {
  yield* allPenalties(terms);
  yield* allOnOtherMass(terms);
  yield* allMetals(terms);
}

function* allPenalties({ penalties }: Terms): Generator<Reading> {
  if (penalties.length < 2) return;
  for (const counting of Object.keys(COUNTING_WORDS) as (keyof typeof COUNTING_WORDS)[]) {
    const counted = penalties.map((penalty): Penalty => {
      const { ladder } = penalty;
      return ladder.kind === 'bracket' ? penalty : { ...penalty, ladder: { ...ladder, counting } };
    });
    yield [
      'other-step-counting',
      `They count all penalties ${COUNTING_WORDS[counting]}.`,
      { penalties: counted },
    ];
  }
  const free = penalties.map((penalty): Penalty => {
    const { ladder } = penalty;
    if (ladder.kind !== 'marginal') return penalty;
    const bands = ladder.bands.map((band, index) => (index === 0 ? { ...band, from: '0' } : band));
    return { ...penalty, ladder: { ...ladder, bands } };
  });
  yield [
    'other-step-counting',
    'They count all penalties from zero, without the free levels.',
    { penalties: free },
  ];
  yield ['penalty-left-out', 'They charge no penalties.', { penalties: [] }];
}

function* allOnOtherMass({ weights, charges, penalties }: Terms): Generator<Reading> {
  const bases: MassBasis[] =
    weights.kind === 'dry' ? ['wet', 'gross', 'dry', 'settlement'] : ['received', 'settlement'];
  for (const basis of bases) {
    const others = penalties.map((penalty) =>
      penalty.elements.includes(MOISTURE) ? penalty : { ...penalty, basis },
    );
    const charged = charges.map((charge): Charge => ('basis' in charge ? { ...charge, basis } : charge));
    const on = `on the ${basis} mass`;
    yield ['other-mass-basis', `They reckon all penalties ${on}.`, { penalties: others }];
    yield ['other-mass-basis', `They reckon all charges by mass ${on}.`, { charges: charged }];
    yield [
      'other-mass-basis',
      `They reckon all charges and penalties ${on}.`,
      { charges: charged, penalties: others },
    ];
  }
}

function* allMetals({ metals }: Terms): Generator<Reading> {
  if (metals.length < 2) return;
  const every = (change: (metal: MetalTerms) => MetalTerms) => ({ metals: metals.map(change) });
  const forms = {
    'lesser-of': 'the lesser of percentage and deduction',
    'unit-then-percent': 'the deduction first, then the percentage',
    'percent-then-unit': 'the percentage first, then the deduction',
  } as const;
  for (const kind of Object.keys(forms) as (keyof typeof forms)[]) {
    yield [
      'other-payable-form',
      `For all metals they take ${forms[kind]}.`,
      every((metal) =>
        metal.form.kind in forms ? { ...metal, form: { ...metal.form, kind } as MetalTerms['form'] } : metal,
      ),
    ];
  }
  yield ['refining-left-out', 'They charge no refining.', every((metal) => ({ ...metal, refining: null }))];
}
