import type { AssayRule, SplittingLimit } from '../../../api/calc/terms/assay-terms.ts';
import type {
  MetalTerms,
  PriceBasis,
  QuotationalPeriod,
  QuotedBasis,
  QuotedOption,
  SimplePayableForm,
  SlidingForm,
} from '../../../api/calc/terms/metal-terms.ts';
import { chooserOf } from '../../../api/calc/terms/choosing-elements.ts';
import { halfUp } from '../../../api/calc/rounding.ts';
import { escalatorDraft } from './draft-of-clauses.ts';
import type { FigureWriter } from '../../lib/typed-figures.ts';
import { roundingDraft } from './rounding-draft.ts';
import type {
  AssayDraft,
  MetalDraft,
  OptionDraft,
  PeriodDraft,
  QuotedDraft,
  SimpleFormDraft,
} from './terms-draft.ts';

const firstLimit: SplittingLimit[] = [{ fromGrade: '0', limit: '' }];

export function assayDraft(rule: AssayRule, write: FigureWriter): AssayDraft {
  const { settledBy } = rule;
  const exchange = settledBy.kind === 'exchange' ? settledBy : null;
  return {
    element: rule.element,
    unit: rule.unit,
    rounding: roundingDraft(rule.rounding, write),
    settledBy: {
      kind: settledBy.kind,
      splittingLimits: (exchange?.splittingLimits ?? firstLimit).map(
        ({ fromGrade, limit, relativeFrac = null }) => ({
          fromGrade: write.text(fromGrade),
          limit: write.text(limit),
          relativeFrac: write.percent(relativeFrac),
        }),
      ),
      umpire:
        exchange === null
          ? { rule: 'middle-of-three', cost: '', costBorneBy: 'further-party', advancedBy: 'buyer' }
          : { ...exchange.umpire, cost: write.text(exchange.umpire.cost) },
      absentPartyBound: exchange?.absentPartyBound ?? false,
    },
  };
}

const simpleForm = (form: SimplePayableForm, write: FigureWriter): SimpleFormDraft => ({
  kind: form.kind,
  paidFrac: write.percent(form.paidFrac),
  deduction: write.text(form.deduction),
});

function slidingDraft(
  form: SlidingForm | null,
  write: FigureWriter,
): Omit<MetalDraft['form'], 'kind' | 'paidFrac' | 'deduction' | 'steps' | 'bands' | 'by'> {
  const isPaid = form?.slides !== 'deduction';
  const figure = (text: string | null) => (isPaid ? write.percent(text) : write.text(text));
  return {
    form:
      form === null
        ? { kind: 'percent-then-unit', paidFrac: '', deduction: '0' }
        : simpleForm(form.form, write),
    slides: form?.slides ?? 'paidFrac',
    fromGrade: write.text(form?.fromGrade ?? null),
    step: write.text(form?.step ?? '1'),
    change: figure(form?.change ?? null),
    counting: form?.counting ?? 'pro-rata',
    minimum: figure(form?.minimum ?? null),
    maximum: figure(form?.maximum ?? null),
  };
}

function formDraft({ form }: MetalTerms, write: FigureWriter): MetalDraft['form'] {
  const isSimple = form.kind !== 'steps' && form.kind !== 'bands' && form.kind !== 'sliding';
  return {
    ...(isSimple ? simpleForm(form, write) : { kind: form.kind, paidFrac: '', deduction: '0' }),
    ...slidingDraft(form.kind === 'sliding' ? form : null, write),
    by: chooserOf(form) ?? '',
    steps:
      form.kind === 'steps'
        ? form.steps.map((step) => ({
            fromGrade: write.text(step.fromGrade),
            form: simpleForm(step.form, write),
          }))
        : [{ fromGrade: '0', form: { kind: 'percent-then-unit', paidFrac: '', deduction: '0' } }],
    bands:
      form.kind === 'bands'
        ? form.bands.map(({ fromGrade, paidFrac }) => ({
            fromGrade: write.text(fromGrade),
            paidFrac: write.percent(paidFrac),
          }))
        : [{ fromGrade: '0', paidFrac: '' }],
  };
}

function periodDraft(period: QuotationalPeriod | null): PeriodDraft {
  const draft: PeriodDraft = {
    kind: period?.kind ?? 'calendar-month',
    event: 'arrival',
    monthsAfter: '1',
    weeksAfter: '0',
    from: '0',
    to: '0',
    fromDate: '',
    toDate: '',
    holidays: [],
  };
  switch (period?.kind) {
    case undefined:
      return draft;
    case 'calendar-month':
      return { ...draft, event: period.event, monthsAfter: String(period.monthsAfter) };
    case 'calendar-week':
      return { ...draft, event: period.event, weeksAfter: String(period.weeksAfter) };
    case 'business-days':
      return {
        ...draft,
        event: period.event,
        from: String(period.from),
        to: String(period.to),
        holidays: period.holidays,
      };
    case 'calendar-days':
      return { ...draft, event: period.event, from: String(period.from), to: String(period.to) };
    case 'dates':
      return { ...draft, fromDate: period.from, toDate: period.to };
  }
}

function basisDraft(basis: PriceBasis, write: FigureWriter): MetalDraft['price']['basis'] {
  const choice = basis.kind === 'choice' ? basis : null;
  return {
    ...quotedDraft(basis.kind === 'quotations' ? basis : null),
    kind: basis.kind,
    price: basis.kind === 'fixed' ? write.text(basis.price) : '',
    steps:
      basis.kind === 'by-grade'
        ? basis.steps.map((step) => ({
            fromGrade: write.text(step.fromGrade),
            price: write.text(step.price),
          }))
        : [emptyGradePrice],
    rule: choice?.rule ?? 'lowest',
    options: choice?.options.map((option) => optionDraft(option, write)) ?? [emptyOption, emptyOption],
  };
}

const quotedDraft = (quoted: QuotedBasis | null): QuotedDraft => ({
  source: quoted?.source ?? '',
  period: periodDraft(quoted?.period ?? null),
  provisional: {
    kind: quoted?.provisional.kind ?? 'latest',
    quotations: quoted?.provisional.kind === 'mean-of-last' ? String(quoted.provisional.quotations) : '5',
  },
});

const optionDraft = (option: QuotedOption, write: FigureWriter): OptionDraft => ({
  ...quotedDraft(option),
  paidFrac: write.percent(option.paidFrac),
});

export const emptyGradePrice = { fromGrade: '', price: '' };

export const emptyOption: OptionDraft = { ...quotedDraft(null), paidFrac: '100' };

export function metalDraft(metal: MetalTerms, write: FigureWriter): MetalDraft {
  const { price, refining, rounding } = metal;
  return {
    metal: metal.metal,
    form: formDraft(metal, write),
    minimumGrade: write.text(metal.minimumGrade),
    minimumDeduction: write.text(metal.minimumDeduction ?? null),
    order: metal.order,
    price: {
      unit: price.unit,
      currency: price.currency ?? '',
      basis: basisDraft(price.basis, write),
      paidFrac: write.percent(price.paidFrac),
      reduction: write.text(price.reduction),
      floor: write.text(price.floor ?? null),
      cap: write.text(price.cap ?? null),
    },
    refining: {
      kind: refining?.kind ?? 'none',
      rate: write.text(refining?.rate ?? null),
      escalators: (refining?.escalators ?? []).map((escalator) => escalatorDraft(escalator, write)),
    },
    ownRounding: rounding !== null,
    rounding: roundingDraft(rounding ?? halfUp(3), write),
  };
}
