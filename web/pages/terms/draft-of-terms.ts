import type { AdvanceTerms, Terms } from '../../../api/calc/terms/terms.ts';
import { chargeDraft, creditDraft, penaltyDraft, royaltyDraft, taxDraft } from './draft-of-clauses.ts';
import { assayDraft, metalDraft } from './draft-of-metals.ts';
import type { FigureWriter } from '../../lib/typed-figures.ts';
import { roundingDraft } from './rounding-draft.ts';
import type { AdvanceDraft, TermsDraft } from './terms-draft.ts';

const advanceDraft = (advance: AdvanceTerms | null, write: FigureWriter): AdvanceDraft => ({
  shareFrac: write.percent(advance?.shareFrac ?? null),
  of: advance?.of ?? 'net-value',
});

function weightsDraft({ weights }: Terms, write: FigureWriter): TermsDraft['weights'] {
  return weights.kind === 'dry'
    ? {
        kind: 'dry',
        unit: weights.unit,
        franchiseFrac: write.percent(weights.franchiseFrac),
        massOfRecord: 'after-melting',
        meltLossLimitFrac: '',
      }
    : {
        kind: 'melt',
        unit: weights.unit,
        franchiseFrac: '0',
        massOfRecord: weights.massOfRecord,
        meltLossLimitFrac: write.percent(weights.meltLossLimitFrac),
      };
}

function interestDraft({ interest }: Terms, write: FigureWriter): TermsDraft['interest'] {
  const period = interest?.period ?? { kind: 'until', event: 'statement' };
  return {
    rateFrac: write.percent(interest?.rateFrac ?? null),
    dayCount: interest?.dayCount ?? 'ACT/360',
    period: {
      kind: period.kind,
      event: period.kind === 'until' ? period.event : 'statement',
      days: period.kind === 'days' ? String(period.days) : '30',
    },
  };
}

/** A contract as it is typed into the editor. */
export function draftOfTerms(terms: Terms, write: FigureWriter): TermsDraft {
  const { factors, rounding, acceptance, valuation } = terms;
  return {
    title: terms.title,
    direction: terms.direction,
    material: terms.material,
    currency: terms.currency,
    settledIn: terms.settledIn,
    tollShareFrac: write.percent(terms.tollShareFrac),
    factors: {
      ounceG: write.text(factors.ounceG),
      poundsPerTonne: write.text(factors.poundsPerTonne),
      shortTonsPerTonne: write.text(factors.shortTonsPerTonne),
      longTonsPerTonne: write.text(factors.longTonsPerTonne),
    },
    weights: weightsDraft(terms, write),
    acceptance: {
      basis: acceptance?.basis ?? 'settlement',
      unit: acceptance?.unit ?? terms.weights.unit,
      minimum: write.text(acceptance?.minimum ?? null),
      maximum: write.text(acceptance?.maximum ?? null),
    },
    valuation: {
      kind: valuation.kind,
      unit: valuation.kind === 'per-tonne' ? valuation.unit : 'tonne',
      totalPerTonne: valuation.kind === 'per-tonne' && valuation.totalPerTonne,
    },
    assays: terms.assays.map((rule) => assayDraft(rule, write)),
    metals: terms.metals.map((metal) => metalDraft(metal, write)),
    charges: terms.charges.map((charge) => chargeDraft(charge, write)),
    minimumCharges: write.text(terms.minimumCharges),
    penalties: terms.penalties.map((penalty) => penaltyDraft(penalty, write)),
    credits: terms.credits.map((credit) => creditDraft(credit, write)),
    royalties: terms.royalties.map((royalty) => royaltyDraft(royalty, write)),
    taxes: (terms.taxes ?? []).map((tax) => taxDraft(tax, write)),
    exchangeRates: terms.exchangeRates.map((rate) => ({ ...rate })),
    paidIn: terms.paidIn ?? '',
    provisional: advanceDraft(terms.provisional, write),
    secondProvisional: advanceDraft(terms.secondProvisional, write),
    interest: interestDraft(terms, write),
    payment: terms.payment.map((payment) => ({ ...payment, days: String(payment.days) })),
    rounding: {
      mass: roundingDraft(rounding.mass, write),
      moisture: roundingDraft(rounding.moisture, write),
      payableGrade: roundingDraft(rounding.payableGrade, write),
      payableMetal: roundingDraft(rounding.payableMetal, write),
      price: roundingDraft(rounding.price, write),
      perTonneValue: roundingDraft(rounding.perTonneValue, write),
      money: roundingDraft(rounding.money, write),
    },
  };
}
