import { Dec, grouped } from '../money.ts';
import { quotationalPeriod, dateOfEvent } from '../terms/price-period.ts';
import type { EventName } from '../terms/term-units.ts';
import type { MetalTerms, QuotationalPeriod } from '../terms/metal-terms.ts';
import { periodWords } from '../terms/metal-sentences.ts';
import { printedMasses } from './cause-masses.ts';
import type { Hypothesis, TheirFigures } from './hypothesis.ts';
import type { SettlementInput } from './input.ts';
import type { Settlement } from './statement.ts';

/** The settlement with one assay of an element put in place of all its results. */
export function withAssay(input: SettlementInput, element: string, result: string): SettlementInput {
  const unit = input.terms.assays.find((rule) => rule.element === element)?.unit ?? 'percent';
  const assays = input.assays.filter((assay) => assay.element !== element);
  return {
    ...input,
    assays: [...assays, { element, unit, own: result, buyer: result, umpire: result, sublot: null }],
  };
}

/** The settlement with the moisture of every sublot moved by so many percentage points. */
export function withMoistureMoved(input: SettlementInput, points: string): SettlementInput {
  if (input.parcel.kind !== 'concentrate') return input;
  const sublots = input.parcel.sublots.map((sublot) => ({
    ...sublot,
    moistureFrac: new Dec(sublot.moistureFrac).plus(new Dec(points).div(100)).toFixed(),
  }));
  return { ...input, parcel: { ...input.parcel, sublots } };
}

/** The settlement with another quoted price of a metal. */
export function withPrice(input: SettlementInput, symbol: string, price: string): SettlementInput {
  const metals = input.terms.metals.map((metal): MetalTerms => {
    if (metal.metal !== symbol) return metal;
    return { ...metal, price: { ...metal.price, basis: { kind: 'fixed', price } } };
  });
  return { ...input, terms: { ...input.terms, metals } };
}

/**
 * Other figures on their side: those that they print themselves, one party's assay where
 * ours is exchanged, sublots averaged without their masses, another quotational period.
 */
export function* figureCauses(
  input: SettlementInput,
  ours: Settlement,
  theirs: TheirFigures,
): Generator<Hypothesis> {
  const ourResult = (id: string) => ours.lines.find((line) => line.id === id)?.result?.value;
  for (const [id, { result }] of theirs) {
    const our = ourResult(id);
    if (result === null || our === undefined || new Dec(our).eq(result)) continue;
    const [section, name = '', more] = id.split('/');
    if (section === 'assays' && more === undefined) {
      yield {
        code: 'their-assay',
        sentence: `Their assay of ${name} is ${result}, ours ${our}.`,
        input: withAssay(input, name, result),
      };
    }
    if (section === 'prices' && more === undefined && input.terms.metals.some((m) => m.metal === name)) {
      yield {
        code: 'their-price',
        sentence: `Their price of ${name} is ${grouped(result)}, ours ${grouped(our)}.`,
        input: withPrice(input, name, result),
      };
    }
  }
  yield* printedMasses(input, ours, theirs);
  yield* partyAssays(input);
  yield* plainMeans(input);
  yield* periods(input);
}

function* partyAssays(input: SettlementInput): Generator<Hypothesis> {
  const weSell = input.terms.direction === 'we-sell';
  for (const rule of input.terms.assays) {
    for (const kind of ['buyer', 'seller', 'mean'] as const) {
      if (rule.settledBy.kind === kind) continue;
      const assays = input.terms.assays.map((r) => (r === rule ? { ...r, settledBy: { kind } } : r));
      const whose = kind === 'mean' ? 'the mean of both parties' : `the ${kind}'s own result`;
      yield {
        code: 'assay-of-one-party',
        sentence: `${rule.element} is taken at ${whose}, not as the contract settles it.`,
        input: { ...input, terms: { ...input.terms, assays } },
      };
    }
    const umpires = input.assays.filter((a) => a.element === rule.element);
    if (umpires.some((a) => a.umpire !== null)) {
      const assays = input.assays.map((a) =>
        a.element === rule.element && a.umpire !== null ? { ...a, own: a.umpire, buyer: a.umpire } : a,
      );
      yield {
        code: 'umpire-alone',
        sentence: `${rule.element} is taken at the umpire's result alone.`,
        input: { ...input, assays },
      };
      yield {
        code: 'umpire-left-out',
        sentence: `${rule.element} is taken as the mean of both parties, the umpire left out${weSell ? '' : ' of their statement'}.`,
        input: {
          ...input,
          terms: {
            ...input.terms,
            assays: input.terms.assays.map((r) => (r === rule ? { ...r, settledBy: { kind: 'mean' } } : r)),
          },
        },
      };
    }
  }
}

/** Sublots averaged as if they were of one mass. */
function* plainMeans(input: SettlementInput): Generator<Hypothesis> {
  for (const { element } of input.terms.assays) {
    const ofPieces = input.assays.filter((a) => a.element === element && (a.sublot ?? null) !== null);
    if (ofPieces.length < 2) continue;
    const mean = (party: 'own' | 'buyer' | 'umpire') => {
      const results = ofPieces.map((a) => a[party]).filter((result) => result !== null);
      if (results.length < ofPieces.length) return null;
      return results
        .reduce((sum, result) => sum.plus(result), new Dec(0))
        .div(results.length)
        .toFixed(8);
    };
    const [first] = ofPieces;
    if (first === undefined) continue;
    const parcelAssay = { ...first, own: mean('own'), buyer: mean('buyer'), umpire: mean('umpire') };
    yield {
      code: 'mean-not-weighted',
      sentence: `${element} is the plain mean of the sublots, not weighted by their dry masses.`,
      input: {
        ...input,
        assays: [...input.assays.filter((a) => a.element !== element), { ...parcelAssay, sublot: null }],
      },
    };
  }
}

const EVENTS: EventName[] = ['shipment', 'arrival', 'weighing', 'melting', 'assay-exchange', 'statement'];

function shifted(period: QuotationalPeriod): QuotationalPeriod[] {
  switch (period.kind) {
    case 'calendar-month':
      return [-1, 0, 1, 2, 3].map((monthsAfter) => ({ ...period, monthsAfter }));
    case 'calendar-week':
      return [-1, 0, 1, 2].map((weeksAfter) => ({ ...period, weeksAfter }));
    case 'business-days':
    case 'calendar-days':
      return [-2, -1, 0, 1, 2].flatMap((by) => [
        { ...period, from: period.from + by, to: period.to + by },
        { ...period, to: period.to + by },
      ]);
    case 'dates':
      return [];
  }
}

/** The quotational period shifted, counted from another event, or of one metal taken as all metals' of it. */
function* periods(input: SettlementInput): Generator<Hypothesis> {
  for (const metal of input.terms.metals) {
    const { basis } = metal.price;
    const quoted = input.prices.find((p) => p.metal === metal.metal)?.quotations ?? [];
    if (basis.kind !== 'quotations' || quoted.length === 0 || basis.period.kind === 'dates') continue;
    const ofEvents = EVENTS.filter((event) => dateOfEvent(event, input.dates) !== null);
    const events = ofEvents.flatMap((event) =>
      basis.period.kind === 'dates' ? [] : shifted({ ...basis.period, event }),
    );
    for (const period of events) {
      const priceBasis = { ...basis, period };
      if ('reason' in quotationalPeriod({ priceBasis, dates: input.dates })) continue;
      const metals = input.terms.metals.map((m) =>
        m === metal ? { ...m, price: { ...m.price, basis: priceBasis } } : m,
      );
      yield {
        code: 'other-quotational-period',
        sentence: `${metal.metal} is priced over ${periodWords(period)}, the contract says ${periodWords(basis.period)}.`,
        input: { ...input, terms: { ...input.terms, metals } },
      };
    }
  }
}
