import type { EventName, GradeUnit } from '../../../api/calc/terms/term-units.ts';
import { isQuoted } from '../../../api/calc/terms/price-bases.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import type { StatementEntry } from '../../../api/schemas/statement.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { figureReader } from '../../lib/typed-figures.ts';

export type Stage = StatementEntry['stage'];
export type Dates = StatementEntry['dates'];

/** The results for one element, typed in the unit of the contract's rule. */
export interface AssayRow {
  element: string;
  unit: GradeUnit;
  /** Place of the sublot or bar; '' for the whole parcel. */
  piece: string;
  own: string;
  buyer: string;
  umpire: string;
}

export interface PriceRow {
  metal: string;
  /** Place of the option the price is of, where the contract lets one be chosen; '' for the price itself. */
  option: string;
  price: string;
  basis: string;
}

export interface RateRow {
  currency: string;
  rate: string;
  date: string;
}

/** A statement as it is typed: masses in the owner's unit, moisture in percent. */
export interface StatementDraft {
  productId: string;
  termsId: string;
  stage: Stage;
  sublots: { name: string; grossKg: string; tareKg: string; moistureFrac: string }[];
  bars: { name: string; receivedG: string; afterMeltG: string }[];
  /** Each sublot or bar is assayed for itself. */
  byPiece: boolean;
  assays: AssayRow[];
  prices: PriceRow[];
  rates: RateRow[];
  /** Which option a party has declared; '' for none yet. */
  declared: { metal: string; option: string }[];
  /** Amounts agreed for this parcel alone, as they count for the seller. */
  items: { name: string; amount: string; reason: string }[];
  dates: Record<keyof Dates, string>;
}

export const dateOf: Record<EventName, keyof Dates> = {
  shipment: 'shippedOn',
  arrival: 'arrivedOn',
  weighing: 'weighedOn',
  melting: 'meltedOn',
  'assay-exchange': 'assaysExchangedOn',
  'price-declaration': 'priceDeclaredOn',
  statement: 'statementOn',
};

export const isSameAssay =
  (wanted: Pick<AssayRow, 'element' | 'unit' | 'piece'>) =>
  (row: AssayRow): boolean =>
    row.element === wanted.element && row.unit === wanted.unit && row.piece === wanted.piece;

/** The assays that the contract asks for, of the parcel or of each piece, in the order in which they are sent. */
export function assaysAsked(draft: StatementDraft, terms: Terms): AssayRow[] {
  const pieces = terms.weights.kind === 'melt' ? draft.bars : draft.sublots;
  const places = draft.byPiece ? pieces.map((_, index) => String(index)) : [''];
  return terms.assays.flatMap(({ element, unit }) =>
    places.map((piece) => {
      const asked = { element, unit, piece };
      return draft.assays.find(isSameAssay(asked)) ?? { ...asked, own: '', buyer: '', umpire: '' };
    }),
  );
}

/** Metals whose price is quoted, so that another may have been agreed. */
export const pricesAsked = (draft: StatementDraft, terms: Terms): PriceRow[] =>
  terms.metals.flatMap(({ metal, price }): PriceRow[] => {
    if (!isQuoted(price.basis)) return [];
    const places =
      price.basis.kind === 'choice' ? price.basis.options.map((_, index) => String(index)) : [''];
    return places.map((option) => {
      const asked = { metal, option };
      return draft.prices.find(isSamePrice(asked)) ?? { ...asked, price: '', basis: 'agreed price' };
    });
  });

export const isSamePrice =
  (wanted: Pick<PriceRow, 'metal' | 'option'>) =>
  (row: PriceRow): boolean =>
    row.metal === wanted.metal && row.option === wanted.option;

/** Metals whose price one party may choose, with what it has declared. */
export const declarationsAsked = (draft: StatementDraft, terms: Terms): StatementDraft['declared'] =>
  terms.metals
    .filter(({ price }) => price.basis.kind === 'choice' && price.basis.rule.endsWith('-option'))
    .map(({ metal }) => draft.declared.find((one) => one.metal === metal) ?? { metal, option: '' });

export const ratesAsked = (draft: StatementDraft, terms: Terms): RateRow[] =>
  terms.exchangeRates.map(
    ({ currency }) =>
      draft.rates.find((row) => row.currency === currency) ?? { currency, rate: '', date: '' },
  );

const isTyped = (text: string): boolean => text.trim() !== '';

/** The place that a row takes among those that are sent; rows without a figure are not. */
export const sentPlace = <Row>(rows: readonly Row[], place: number, figure: (row: Row) => string): number =>
  rows.slice(0, place).filter((row) => isTyped(figure(row))).length;

/** The statement to be sent, and the pointers of what is still empty or cannot be read. */
export function entryOfDraft(
  draft: StatementDraft,
  terms: Terms,
  owner: OwnerChoices,
): { entry: StatementEntry; incomplete: readonly string[] } {
  const read = figureReader(owner);
  const isBars = terms.weights.kind === 'melt';
  const pieces = isBars ? draft.bars : draft.sublots;
  const entry: StatementEntry = {
    productId: draft.productId,
    termsId: draft.termsId,
    stage: draft.stage,
    parcel: isBars
      ? {
          kind: 'dore',
          bars: draft.bars.map(({ name, receivedG, afterMeltG }, index) => ({
            name: read.needed(name, `/parcel/bars/${index}/name`),
            receivedG: read.quantity('metalMassG', receivedG, `/parcel/bars/${index}/receivedG`),
            afterMeltG: read.optionalQuantity('metalMassG', afterMeltG, `/parcel/bars/${index}/afterMeltG`),
          })),
        }
      : {
          kind: 'concentrate',
          sublots: draft.sublots.map(({ name, grossKg, tareKg, moistureFrac }, index) => ({
            name: read.needed(name, `/parcel/sublots/${index}/name`),
            grossKg: read.quantity('lotMassKg', grossKg, `/parcel/sublots/${index}/grossKg`),
            tareKg: read.quantity('lotMassKg', tareKg, `/parcel/sublots/${index}/tareKg`),
            moistureFrac: read.percent(moistureFrac, `/parcel/sublots/${index}/moistureFrac`),
          })),
        },
    assays: assaysAsked(draft, terms).map(({ element, unit, piece, own, buyer, umpire }, index) => ({
      element,
      unit,
      own: read.optional(own, `/assays/${index}/own`),
      buyer: read.optional(buyer, `/assays/${index}/buyer`),
      umpire: read.optional(umpire, `/assays/${index}/umpire`),
      sublot: piece === '' ? null : (pieces[Number(piece)]?.name ?? null),
    })),
    agreedPrices: pricesAsked(draft, terms)
      .filter(({ price }) => isTyped(price))
      .map(({ metal, option, price, basis }, index) => ({
        metal,
        ...(option === '' ? {} : { option: Number(option) }),
        price: read.decimal(price, `/agreedPrices/${index}/price`),
        basis: read.needed(basis, `/agreedPrices/${index}/basis`),
      })),
    exchangeRates: ratesAsked(draft, terms)
      .filter(({ rate }) => isTyped(rate))
      .map(({ currency, rate, date }, index) => ({
        currency,
        rate: read.decimal(rate, `/exchangeRates/${index}/rate`),
        date: read.needed(date, `/exchangeRates/${index}/date`),
      })),
    declaredOptions: declarationsAsked(draft, terms).flatMap(({ metal, option }) =>
      option === '' ? [] : [{ metal, option: Number(option) }],
    ),
    agreedItems: draft.items.map(({ name, amount, reason }, index) => ({
      name: read.needed(name, `/agreedItems/${index}/name`),
      amount: read.decimal(amount, `/agreedItems/${index}/amount`),
      reason: read.needed(reason, `/agreedItems/${index}/reason`),
    })),
    dates: Object.fromEntries(
      Object.entries(draft.dates).map(([name, day]) => [name, day === '' ? null : day]),
    ) as Dates,
  };
  if (isBars) read.some(draft.bars, '/parcel/bars');
  else read.some(draft.sublots, '/parcel/sublots');
  return { entry, incomplete: read.incomplete };
}
