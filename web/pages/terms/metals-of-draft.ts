import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import type {
  MetalTerms,
  PayableForm,
  PriceBasis,
  QuotationalPeriod,
  QuotedBasis,
  SimplePayableForm,
} from '../../../api/calc/terms/metal-terms.ts';
import { escalatorOf } from './clauses-of-draft.ts';
import type { FigureReader } from '../../lib/typed-figures.ts';
import { roundingOf } from './rounding-draft.ts';
import type { AssayDraft, MetalDraft, PeriodDraft, QuotedDraft, SimpleFormDraft } from './terms-draft.ts';

/** A clause that contracts may leave out is left out of the data too. */
const agreed = <Name extends string>(name: Name, value: string | null) =>
  (value === null ? {} : { [name]: value }) as Partial<Record<Name, string>>;

export function assayOf(rule: AssayDraft, at: string, read: FigureReader): AssayRule {
  const { settledBy } = rule;
  const limits = `${at}/settledBy/splittingLimits`;
  return {
    element: read.needed(rule.element, `${at}/element`),
    unit: rule.unit,
    rounding: roundingOf(rule.rounding, `${at}/rounding`, read),
    settledBy:
      settledBy.kind === 'exchange'
        ? {
            kind: 'exchange',
            splittingLimits: read
              .some(settledBy.splittingLimits, limits)
              .map(({ fromGrade, limit, relativeFrac }, index) => ({
                fromGrade: read.decimal(fromGrade, `${limits}/${index}/fromGrade`),
                limit: read.decimal(limit, `${limits}/${index}/limit`),
                ...agreed(
                  'relativeFrac',
                  read.optionalPercent(relativeFrac, `${limits}/${index}/relativeFrac`),
                ),
              })),
            umpire: {
              ...settledBy.umpire,
              cost: read.optional(settledBy.umpire.cost, `${at}/settledBy/umpire/cost`),
            },
            absentPartyBound: settledBy.absentPartyBound,
          }
        : { kind: settledBy.kind },
  };
}

const simpleFormOf = (form: SimpleFormDraft, at: string, read: FigureReader): SimplePayableForm => ({
  kind: form.kind,
  paidFrac: read.percent(form.paidFrac, `${at}/paidFrac`),
  deduction: read.decimal(form.deduction, `${at}/deduction`),
});

function formOf(form: MetalDraft['form'], at: string, read: FigureReader): PayableForm {
  switch (form.kind) {
    case 'steps':
      return {
        kind: 'steps',
        ...agreed('by', form.by === '' ? null : form.by),
        steps: read.some(form.steps, `${at}/steps`).map((step, index) => ({
          fromGrade: read.decimal(step.fromGrade, `${at}/steps/${index}/fromGrade`),
          form: simpleFormOf(step.form, `${at}/steps/${index}/form`, read),
        })),
      };
    case 'sliding': {
      const isPaid = form.slides === 'paidFrac';
      const limit = (text: string, name: string) =>
        isPaid ? read.optionalPercent(text, `${at}/${name}`) : read.optional(text, `${at}/${name}`);
      return {
        kind: 'sliding',
        form: simpleFormOf(form.form, `${at}/form`, read),
        slides: form.slides,
        by: form.by === '' ? null : form.by,
        fromGrade: read.decimal(form.fromGrade, `${at}/fromGrade`),
        step: read.decimal(form.step, `${at}/step`),
        change: isPaid
          ? read.percent(form.change, `${at}/change`)
          : read.decimal(form.change, `${at}/change`),
        counting: form.counting,
        minimum: limit(form.minimum, 'minimum'),
        maximum: limit(form.maximum, 'maximum'),
      };
    }
    case 'bands':
      return {
        kind: 'bands',
        bands: read.some(form.bands, `${at}/bands`).map(({ fromGrade, paidFrac }, index) => ({
          fromGrade: read.decimal(fromGrade, `${at}/bands/${index}/fromGrade`),
          paidFrac: read.percent(paidFrac, `${at}/bands/${index}/paidFrac`),
        })),
      };
    case 'lesser-of':
    case 'unit-then-percent':
    case 'percent-then-unit':
      return simpleFormOf({ ...form, kind: form.kind }, at, read);
  }
}

function periodOf(period: PeriodDraft, at: string, read: FigureReader): QuotationalPeriod {
  const { kind, event } = period;
  switch (kind) {
    case 'calendar-month':
      return { kind, event, monthsAfter: read.whole(period.monthsAfter, `${at}/monthsAfter`) };
    case 'calendar-week':
      return { kind, event, weeksAfter: read.whole(period.weeksAfter, `${at}/weeksAfter`) };
    case 'business-days':
    case 'calendar-days': {
      const days = {
        event,
        from: read.whole(period.from, `${at}/from`),
        to: read.whole(period.to, `${at}/to`),
      };
      if (kind === 'calendar-days') return { kind, ...days };
      return {
        kind,
        ...days,
        holidays: period.holidays.map((day, index) => read.needed(day, `${at}/holidays/${index}`)),
      };
    }
    case 'dates':
      return {
        kind,
        from: read.needed(period.fromDate, `${at}/from`),
        to: read.needed(period.toDate, `${at}/to`),
      };
  }
}

function basisOf(basis: MetalDraft['price']['basis'], at: string, read: FigureReader): PriceBasis {
  if (basis.kind === 'fixed') return { kind: 'fixed', price: read.decimal(basis.price, `${at}/price`) };
  if (basis.kind === 'by-grade')
    return {
      kind: 'by-grade',
      steps: read.some(basis.steps, `${at}/steps`).map((step, index) => ({
        fromGrade: read.decimal(step.fromGrade, `${at}/steps/${index}/fromGrade`),
        price: read.decimal(step.price, `${at}/steps/${index}/price`),
      })),
    };
  if (basis.kind === 'quotations') return quotedOf(basis, at, read);
  return {
    kind: 'choice',
    rule: basis.rule,
    options: read.some(basis.options, `${at}/options`).map((option, index) => ({
      ...quotedOf(option, `${at}/options/${index}`, read),
      paidFrac: read.percent(option.paidFrac, `${at}/options/${index}/paidFrac`),
    })),
  };
}

function quotedOf(basis: QuotedDraft, at: string, read: FigureReader): QuotedBasis {
  return {
    kind: 'quotations',
    source: read.needed(basis.source, `${at}/source`),
    period: periodOf(basis.period, `${at}/period`, read),
    provisional:
      basis.provisional.kind === 'latest'
        ? { kind: 'latest' }
        : {
            kind: 'mean-of-last',
            quotations: read.whole(basis.provisional.quotations, `${at}/provisional/quotations`),
          },
  };
}

export function metalOf(metal: MetalDraft, at: string, read: FigureReader): MetalTerms {
  const { price, refining } = metal;
  return {
    metal: read.needed(metal.metal, `${at}/metal`),
    form: formOf(metal.form, `${at}/form`, read),
    minimumGrade: read.optional(metal.minimumGrade, `${at}/minimumGrade`),
    ...agreed('minimumDeduction', read.optional(metal.minimumDeduction, `${at}/minimumDeduction`)),
    order: metal.order,
    price: {
      unit: price.unit,
      currency: price.currency === '' ? null : price.currency,
      basis: basisOf(price.basis, `${at}/price/basis`, read),
      paidFrac: read.percent(price.paidFrac, `${at}/price/paidFrac`),
      reduction: read.decimal(price.reduction, `${at}/price/reduction`),
      ...agreed('floor', read.optional(price.floor, `${at}/price/floor`)),
      ...agreed('cap', read.optional(price.cap, `${at}/price/cap`)),
    },
    refining:
      refining.kind === 'none'
        ? null
        : {
            kind: refining.kind,
            rate: read.decimal(refining.rate, `${at}/refining/rate`),
            escalators: refining.escalators.map((escalator, index) =>
              escalatorOf(escalator, `${at}/refining/escalators/${index}`, read),
            ),
          },
    rounding: metal.ownRounding ? roundingOf(metal.rounding, `${at}/rounding`, read) : null,
  };
}
