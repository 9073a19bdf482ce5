import { Dec } from '../../../api/calc/money.ts';
import { convert, gradeConversion } from '../../../api/calc/terms/conversion.ts';
import type { GradeUnit } from '../../../api/calc/terms/term-units.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import type { Product } from '../../../api/schemas/batch.ts';
import type { LabAssay, Lot } from '../../../api/schemas/lot.ts';
import type { Shipment } from '../../../api/schemas/shipment.ts';
import type { StatementEntry } from '../../../api/schemas/statement.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { shiftPoint } from '../../lib/parse-decimal.ts';
import { figureWriter } from '../../lib/typed-figures.ts';
import type { FigureWriter } from '../../lib/typed-figures.ts';
import type { AssayRow, Dates, Stage, StatementDraft } from './statement-draft.ts';

const noDates: Dates = {
  shippedOn: null,
  arrivedOn: null,
  weighedOn: null,
  meltedOn: null,
  assaysExchangedOn: null,
  priceDeclaredOn: null,
  statementOn: null,
};

const datesDraft = (dates: Dates): StatementDraft['dates'] => ({
  shippedOn: dates.shippedOn ?? '',
  arrivedOn: dates.arrivedOn ?? '',
  weighedOn: dates.weighedOn ?? '',
  meltedOn: dates.meltedOn ?? '',
  assaysExchangedOn: dates.assaysExchangedOn ?? '',
  priceDeclaredOn: dates.priceDeclaredOn ?? '',
  statementOn: dates.statementOn ?? '',
});

/** Figures of a converted assay beyond these are noise. */
const assayDigits = 8;

function inUnit(value: string, from: GradeUnit, to: GradeUnit, terms: Terms): string {
  if (from === to) return value;
  return convert(new Dec(value), gradeConversion(from, to), terms.factors)
    .toSignificantDigits(assayDigits)
    .toFixed();
}

/** The laboratory's newest result for an element. */
const newestAssay = (lot: Lot | null, element: string): LabAssay | undefined =>
  lot?.labAssays
    .filter((assay) => assay.element === element)
    .toSorted((a, b) => (a.assayedOn < b.assayedOn ? -1 : 1))
    .at(-1);

/** Days that a product's shipment is on record for. */
type Shipped = Pick<Shipment, 'shippedOn' | 'arrivedOn'> | null;

/** The days with those of the shipment where none was entered. */
const withShipment = (dates: StatementDraft['dates'], shipment: Shipped): StatementDraft['dates'] => ({
  ...dates,
  shippedOn: dates.shippedOn === '' ? (shipment?.shippedOn ?? '') : dates.shippedOn,
  arrivedOn: dates.arrivedOn === '' ? (shipment?.arrivedOn ?? '') : dates.arrivedOn,
});

/**
 * Our own results as far as they are in the books, in the contract's units: the assay of the bar or parcel itself;
 * for what a parcel was not assayed for, the lot's lab assays.
 */
export function ownAssays(terms: Terms, product: Product, lot: Lot | null, write: FigureWriter): AssayRow[] {
  const fineness: Record<string, string | null> = {
    Au: product.goldFinenessFrac,
    Ag: product.silverFinenessFrac,
  };
  return terms.assays.map(({ element, unit }) => {
    const fine = fineness[element] ?? null;
    const assay = product.kind === 'parcel' ? newestAssay(lot, element) : undefined;
    const own =
      fine !== null
        ? inUnit(shiftPoint(fine, 3), 'fineness', unit, terms)
        : assay === undefined
          ? null
          : inUnit(assay.value, assay.unit, unit, terms);
    return { element, unit, piece: '', own: write.text(own), buyer: '', umpire: '' };
  });
}

/** A first statement for a product, filled in as far as the books know it. */
export function firstStatement(start: {
  product: Product;
  lot: Lot | null;
  terms: { id: string; body: Terms } | null;
  stage: Stage;
  today: string;
  owner: OwnerChoices;
  shipment: Shipped;
}): StatementDraft {
  const { product, lot, terms, stage, today, owner, shipment } = start;
  const write = figureWriter(owner);
  return {
    productId: product.id,
    termsId: terms?.id ?? '',
    stage,
    sublots: [
      {
        name: product.code,
        grossKg: write.quantity('lotMassKg', product.massKg),
        tareKg: '0',
        moistureFrac: write.percent(lot?.moistureFrac ?? null),
      },
    ],
    bars: [
      {
        name: product.code,
        receivedG: write.quantity('metalMassG', shiftPoint(product.massKg, 3)),
        afterMeltG: '',
      },
    ],
    byPiece: false,
    assays: terms === null ? [] : ownAssays(terms.body, product, lot, write),
    prices: [],
    rates: [],
    declared: [],
    items: [],
    dates: { ...withShipment(datesDraft(noDates), shipment), statementOn: today },
  };
}

/** A kept statement as it is typed. */
export function draftOfEntry(entry: StatementEntry, owner: OwnerChoices): StatementDraft {
  const write = figureWriter(owner);
  const { parcel } = entry;
  const pieces = parcel.kind === 'dore' ? parcel.bars : parcel.sublots;
  return {
    productId: entry.productId,
    termsId: entry.termsId,
    stage: entry.stage,
    sublots:
      parcel.kind === 'concentrate'
        ? parcel.sublots.map(({ name, grossKg, tareKg, moistureFrac }) => ({
            name,
            grossKg: write.quantity('lotMassKg', grossKg),
            tareKg: write.quantity('lotMassKg', tareKg),
            moistureFrac: write.percent(moistureFrac),
          }))
        : [],
    bars:
      parcel.kind === 'dore'
        ? parcel.bars.map(({ name, receivedG, afterMeltG }) => ({
            name,
            receivedG: write.quantity('metalMassG', receivedG),
            afterMeltG: write.quantity('metalMassG', afterMeltG),
          }))
        : [],
    byPiece: entry.assays.some(({ sublot }) => sublot !== null),
    assays: entry.assays.map(({ element, unit, own, buyer, umpire, sublot }) => ({
      element,
      unit,
      piece: sublot === null ? '' : String(pieces.findIndex(({ name }) => name === sublot)),
      own: write.text(own),
      buyer: write.text(buyer),
      umpire: write.text(umpire),
    })),
    prices: entry.agreedPrices.map(({ metal, option, price, basis }) => ({
      metal,
      option: option === undefined ? '' : String(option),
      price: write.text(price),
      basis,
    })),
    declared: (entry.declaredOptions ?? []).map(({ metal, option }) => ({ metal, option: String(option) })),
    items: (entry.agreedItems ?? []).map(({ name, amount, reason }) => ({
      name,
      amount: write.text(amount),
      reason,
    })),
    rates: entry.exchangeRates.map(({ currency, rate, date }) => ({
      currency,
      rate: write.text(rate),
      date,
    })),
    dates: datesDraft(entry.dates),
  };
}

/** The statement that follows an issued one: what was entered for that, until it is known better. */
export function followingStatement(
  before: StatementEntry,
  next: { stage: Stage; today: string; owner: OwnerChoices; shipment: Shipped },
): StatementDraft {
  const { stage, today, owner, shipment } = next;
  const draft = draftOfEntry(before, owner);
  return {
    ...draft,
    stage,
    // A price agreed for an advance does not hold for the final; an adjustment stands on the final's.
    prices: stage === 'adjustment' ? draft.prices : [],
    dates: { ...withShipment(draft.dates, shipment), statementOn: today },
  };
}
