import type { AssayRule } from '../../../api/calc/terms/assay-terms.ts';
import type {
  MetalTerms,
  PayableForm,
  PriceBasis,
  QuotationalPeriod,
  SimplePayableForm,
} from '../../../api/calc/terms/metal-terms.ts';
import { escalatorOf } from './clauses-of-draft.ts';
import type { FigureReader } from '../../lib/typed-figures.ts';
import { roundingOf } from './rounding-draft.ts';
import type { AssayDraft, MetalDraft, PeriodDraft, SimpleFormDraft } from './terms-draft.ts';

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
              .map(({ fromGrade, limit }, index) => ({
                fromGrade: read.decimal(fromGrade, `${limits}/${index}/fromGrade`),
                limit: read.decimal(limit, `${limits}/${index}/limit`),
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
        steps: read.some(form.steps, `${at}/steps`).map((step, index) => ({
          fromGrade: read.decimal(step.fromGrade, `${at}/steps/${index}/fromGrade`),
          form: simpleFormOf(step.form, `${at}/steps/${index}/form`, read),
        })),
      };
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
    order: metal.order,
    price: {
      unit: price.unit,
      currency: price.currency === '' ? null : price.currency,
      basis: basisOf(price.basis, `${at}/price/basis`, read),
      paidFrac: read.percent(price.paidFrac, `${at}/price/paidFrac`),
      reduction: read.decimal(price.reduction, `${at}/price/reduction`),
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
