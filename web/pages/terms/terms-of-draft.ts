import type { AdvanceTerms, RoundingTerms, Terms } from '../../../api/calc/terms/terms.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { chargeOf, creditOf, penaltyOf, royaltyOf, taxOf } from './clauses-of-draft.ts';
import { figureReader } from '../../lib/typed-figures.ts';
import type { FigureReader } from '../../lib/typed-figures.ts';
import { assayOf, metalOf } from './metals-of-draft.ts';
import { roundingOf } from './rounding-draft.ts';
import type { AdvanceDraft, TermsDraft } from './terms-draft.ts';

/** A contract read from what is typed, and the pointers of what is still empty or cannot be read. */
export interface ReadTerms {
  terms: Terms;
  incomplete: readonly string[];
}

function advanceOf(advance: AdvanceDraft, at: string, read: FigureReader): AdvanceTerms | null {
  const shareFrac = read.optionalPercent(advance.shareFrac, `${at}/shareFrac`);
  return shareFrac === null ? null : { shareFrac, of: advance.of };
}

function weightsOf({ weights }: TermsDraft, read: FigureReader): Terms['weights'] {
  return weights.kind === 'dry'
    ? {
        kind: 'dry',
        unit: weights.unit,
        franchiseFrac: read.percent(weights.franchiseFrac, '/weights/franchiseFrac'),
      }
    : {
        kind: 'melt',
        unit: weights.unit,
        massOfRecord: weights.massOfRecord,
        meltLossLimitFrac: read.optionalPercent(weights.meltLossLimitFrac, '/weights/meltLossLimitFrac'),
      };
}

function acceptanceOf({ acceptance }: TermsDraft, read: FigureReader): Terms['acceptance'] {
  const minimum = read.optional(acceptance.minimum, '/acceptance/minimum');
  const maximum = read.optional(acceptance.maximum, '/acceptance/maximum');
  if (minimum === null && maximum === null) return null;
  return { basis: acceptance.basis, unit: acceptance.unit, minimum, maximum };
}

function interestOf({ interest }: TermsDraft, read: FigureReader): Terms['interest'] {
  const { dayCount, period } = interest;
  const rateFrac = read.optionalPercent(interest.rateFrac, '/interest/rateFrac');
  if (rateFrac === null) return null;
  return {
    rateFrac,
    dayCount,
    period:
      period.kind === 'until'
        ? { kind: 'until', event: period.event }
        : { kind: 'days', days: read.whole(period.days, '/interest/period/days') },
  };
}

function roundingsOf({ rounding }: TermsDraft, read: FigureReader): RoundingTerms {
  const rule = (name: keyof RoundingTerms) => roundingOf(rounding[name], `/rounding/${name}`, read);
  return {
    mass: rule('mass'),
    moisture: rule('moisture'),
    payableGrade: rule('payableGrade'),
    payableMetal: rule('payableMetal'),
    price: rule('price'),
    perTonneValue: rule('perTonneValue'),
    money: rule('money'),
  };
}

export function termsOfDraft(draft: TermsDraft, owner: OwnerChoices): ReadTerms {
  const read = figureReader(owner);
  const factor = (name: keyof Terms['factors']) => read.decimal(draft.factors[name], `/factors/${name}`);
  const { valuation } = draft;
  const terms: Terms = {
    title: read.needed(draft.title, '/title'),
    direction: draft.direction,
    material: draft.material,
    currency: read.needed(draft.currency, '/currency'),
    factors: {
      ounceG: factor('ounceG'),
      poundsPerTonne: factor('poundsPerTonne'),
      shortTonsPerTonne: factor('shortTonsPerTonne'),
      longTonsPerTonne: factor('longTonsPerTonne'),
    },
    weights: weightsOf(draft, read),
    acceptance: acceptanceOf(draft, read),
    valuation:
      valuation.kind === 'per-tonne' ? { ...valuation, kind: 'per-tonne' } : { kind: 'payable-metal' },
    settledIn: draft.settledIn,
    tollShareFrac: read.percent(draft.tollShareFrac, '/tollShareFrac'),
    assays: draft.assays.map((rule, index) => assayOf(rule, `/assays/${index}`, read)),
    metals: draft.metals.map((metal, index) => metalOf(metal, `/metals/${index}`, read)),
    charges: draft.charges.map((charge, index) => chargeOf(charge, `/charges/${index}`, read)),
    minimumCharges: read.optional(draft.minimumCharges, '/minimumCharges'),
    penalties: draft.penalties.map((penalty, index) => penaltyOf(penalty, `/penalties/${index}`, read)),
    credits: draft.credits.map((credit, index) => creditOf(credit, `/credits/${index}`, read)),
    royalties: draft.royalties.map((royalty, index) => royaltyOf(royalty, `/royalties/${index}`, read)),
    ...(draft.taxes.length === 0
      ? {}
      : { taxes: draft.taxes.map((tax, index) => taxOf(tax, `/taxes/${index}`, read)) }),
    exchangeRates: draft.exchangeRates.map(({ currency, rateOn, source }, index) => ({
      currency: read.needed(currency, `/exchangeRates/${index}/currency`),
      rateOn,
      source: read.needed(source, `/exchangeRates/${index}/source`),
    })),
    paidIn: draft.paidIn === '' ? null : draft.paidIn,
    provisional: advanceOf(draft.provisional, '/provisional', read),
    secondProvisional: advanceOf(draft.secondProvisional, '/secondProvisional', read),
    interest: interestOf(draft, read),
    payment: draft.payment.map((payment, index) => ({
      ...payment,
      days: read.whole(payment.days, `/payment/${index}/days`),
    })),
    rounding: roundingsOf(draft, read),
  };
  return { terms, incomplete: read.incomplete };
}
