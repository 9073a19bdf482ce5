import { grouped } from '../money.ts';
import { roundingSentence } from '../rounding.ts';
import type { AssayRule, SplittingLimit, UmpireTerms } from './assay-terms.ts';
import { percentText } from './payable-form.ts';
import { chargeSentence, creditSentence, escalatorSentence, penaltySentence } from './charge-sentences.ts';
import { metalSentences } from './metal-sentences.ts';
import { royaltySentence, taxSentence } from './royalty-sentences.ts';
import type { PaymentTerms, Terms } from './terms.ts';
import { eventWords, list } from './words.ts';

export interface TermsSentence {
  clause: string;
  sentence: string;
}

/** The contract read back in plain sentences, clause by clause, in the order a settlement is worked. */
export function termsSentences(terms: Terms): TermsSentence[] {
  return [
    ...materialSentences(terms),
    ...weightSentences(terms),
    ...terms.assays.map((rule) => ({
      clause: `Assay of ${rule.element}`,
      sentence: assaySentence(rule, terms),
    })),
    ...terms.metals.flatMap((metal) => metalSentences(metal, terms)),
    ...valuationSentences(terms),
    ...terms.charges.flatMap((charge) => [
      { clause: 'Charges', sentence: chargeSentence(charge, terms) },
      ...(charge.kind === 'per-mass'
        ? charge.escalators.map((escalator) => ({
            clause: 'Charges',
            sentence: escalatorSentence(escalator, charge.name, charge.unit, terms),
          }))
        : []),
    ]),
    ...(terms.minimumCharges === null
      ? []
      : [
          {
            clause: 'Charges',
            sentence: `All charges together are at least ${grouped(terms.minimumCharges)} ${terms.currency}.`,
          },
        ]),
    ...terms.penalties.map((penalty) => ({
      clause: 'Penalties',
      sentence: penaltySentence(penalty, terms),
    })),
    ...terms.credits.map((credit) => ({ clause: 'Credits', sentence: creditSentence(credit, terms) })),
    ...terms.royalties.map((royalty) => ({
      clause: royalty.kind === 'royalty' ? 'Royalty' : 'Production tax',
      sentence: royaltySentence(royalty, terms),
    })),
    ...(terms.taxes ?? []).map((tax) => ({ clause: 'Taxes', sentence: taxSentence(tax) })),
    ...paymentSentences(terms),
    ...factorAndRoundingSentences(terms),
  ];
}

const PARTIES = {
  'we-sell': 'We sell',
  'we-buy': 'We buy',
  'we-toll': 'We treat, for a charge,',
} as const;
const MATERIALS = { concentrate: 'concentrate', dore: 'doré', 'by-product': 'by-products' } as const;

function materialSentences(terms: Terms): TermsSentence[] {
  const settled =
    terms.settledIn === 'money'
      ? `The settlement is in ${terms.currency}.`
      : `Payable metal is returned as metal; charges are in ${terms.currency}.`;
  const toll =
    Number(terms.tollShareFrac) === 0
      ? ''
      : ` ${percentText(terms.tollShareFrac)} of the payable metal stays with the mill.`;
  const sentences = [
    {
      clause: 'Material',
      sentence: `${PARTIES[terms.direction]} ${MATERIALS[terms.material]} under “${terms.title}”. ${settled}${toll}`,
    },
  ];
  const { acceptance } = terms;
  if (acceptance !== null && (acceptance.minimum !== null || acceptance.maximum !== null)) {
    const least = acceptance.minimum === null ? [] : [`at least ${grouped(acceptance.minimum)}`];
    const most = acceptance.maximum === null ? [] : [`at most ${grouped(acceptance.maximum)}`];
    sentences.push({
      clause: 'Material',
      sentence: `A parcel is ${list([...least, ...most])} ${acceptance.unit} of ${acceptance.basis} mass.`,
    });
  }
  return sentences;
}

function weightSentences({ weights }: Terms): TermsSentence[] {
  if (weights.kind === 'dry') {
    const franchise =
      Number(weights.franchiseFrac) === 0
        ? 'no franchise'
        : `less a franchise of ${percentText(weights.franchiseFrac)} of the dry mass`;
    return [
      {
        clause: 'Weights',
        sentence: `Masses are in ${weights.unit}: gross less tare is wet, less moisture is dry; ${franchise}.`,
      },
    ];
  }
  const record =
    weights.massOfRecord === 'after-melting'
      ? 'The mass after melting is the mass of record'
      : 'The mass as received is the mass of record';
  const limit =
    weights.meltLossLimitFrac === null
      ? ''
      : ` A melt loss above ${percentText(weights.meltLossLimitFrac)} has to be explained.`;
  return [{ clause: 'Weights', sentence: `${record}, in ${weights.unit}.${limit}` }];
}

const UMPIRE_RESULT: Record<UmpireTerms['rule'], string> = {
  'middle-of-three': 'the middle of the three results',
  'mean-of-nearest-two': 'the mean of the two results nearest together',
  'mean-of-umpire-and-nearer': "the mean of the umpire's result and the party's nearer to it",
  'nearer-party': 'the result of the party nearer to the umpire',
};
const COST_BORNE: Record<UmpireTerms['costBorneBy'], string> = {
  'further-party': 'by the party further away',
  shared: 'by both in halves',
  seller: 'by the seller',
  buyer: 'by the buyer',
};

function splittingWords({ limit, relativeFrac = null }: SplittingLimit, unit: string): string {
  const absolute = `${limit} ${unit}`;
  if (relativeFrac === null) return absolute;
  const relative = `${percentText(relativeFrac)} of the mean`;
  return Number(limit) === 0 ? relative : `${absolute} or ${relative}, whichever is more,`;
}

function assaySentence(rule: AssayRule, terms: Terms): string {
  const how = `In ${rule.unit}, ${roundingSentence(rule.rounding)}.`;
  const by = rule.settledBy;
  if (by.kind === 'seller' || by.kind === 'buyer') return `${how} The ${by.kind}'s result counts.`;
  if (by.kind === 'mean') return `${how} The mean of seller's and buyer's results counts.`;
  const limits = by.splittingLimits.map((band) => {
    const from = Number(band.fromGrade) === 0 ? '' : ` from ${band.fromGrade}`;
    return `${splittingWords(band, rule.unit)}${from}`;
  });
  const cost =
    by.umpire.cost === null
      ? `The umpire is paid ${COST_BORNE[by.umpire.costBorneBy]}.`
      : `The umpire's ${grouped(by.umpire.cost)} ${terms.currency} is borne ${COST_BORNE[by.umpire.costBorneBy]}, paid first by the ${by.umpire.advancedBy}.`;
  const absent = by.absentPartyBound ? ' A party that does not exchange is bound by the other.' : '';
  return `${how} Results are exchanged; up to ${list(limits)} apart the mean counts, beyond it ${UMPIRE_RESULT[by.umpire.rule]} once an umpire has assayed. ${cost}${absent}`;
}

function valuationSentences({ valuation }: Terms): TermsSentence[] {
  if (valuation.kind === 'payable-metal') return [];
  const once = valuation.totalPerTonne ? ' The net value is multiplied once.' : '';
  return [
    {
      clause: 'Valuation',
      sentence: `Values are worked per ${valuation.unit} and multiplied by the settlement mass.${once}`,
    },
  ];
}

function dueWords({ days, dayKind, after }: PaymentTerms): string {
  if (days === 0) return `on the day of ${eventWords(after)}`;
  return `${days} ${dayKind} ${days === 1 ? 'day' : 'days'} after ${eventWords(after)}`;
}

function paymentSentences(terms: Terms): TermsSentence[] {
  const sentences: TermsSentence[] = [];
  const add = (sentence: string) => sentences.push({ clause: 'Payment', sentence });
  const base = (of: 'net-value' | 'payable-value') =>
    of === 'net-value' ? 'the net value' : 'the payable value, all charges taken in full';
  if (terms.provisional !== null) {
    add(
      `Provisionally ${percentText(terms.provisional.shareFrac)} of ${base(terms.provisional.of)} is paid.`,
    );
  }
  if (terms.secondProvisional !== null) {
    add(
      `A second provisional payment brings it to ${percentText(terms.secondProvisional.shareFrac)} of ${base(terms.secondProvisional.of)}.`,
    );
  }
  for (const payment of terms.payment) {
    add(`The ${payment.stage.replaceAll('-', ' ')} payment is due ${dueWords(payment)}.`);
  }
  if (terms.interest !== null) {
    const { period } = terms.interest;
    const time = period.kind === 'days' ? `for ${period.days} days` : `until ${eventWords(period.event)}`;
    add(
      `Advances bear ${percentText(terms.interest.rateFrac)} interest a year ${time}, ${terms.interest.dayCount}.`,
    );
  }
  for (const rate of terms.exchangeRates) {
    add(`${rate.currency} is exchanged at ${rate.source}, the day of ${eventWords(rate.rateOn)}.`);
  }
  if (terms.paidIn !== null) add(`The total is paid in ${terms.paidIn}.`);
  return sentences;
}

function factorAndRoundingSentences({ factors, rounding }: Terms): TermsSentence[] {
  return [
    {
      clause: 'Factors',
      sentence: `A troy ounce is ${factors.ounceG} g; a tonne is ${factors.poundsPerTonne} lb, ${factors.shortTonsPerTonne} short tons or ${factors.longTonsPerTonne} long tons.`,
    },
    {
      clause: 'Rounding',
      sentence: `Masses ${roundingSentence(rounding.mass)}; moisture percent ${roundingSentence(rounding.moisture)}; payable grades ${roundingSentence(rounding.payableGrade)}; metal ${roundingSentence(rounding.payableMetal)}; prices ${roundingSentence(rounding.price)}; values per unit ${roundingSentence(rounding.perTonneValue)}; money ${roundingSentence(rounding.money)}.`,
    },
  ];
}
