import { Dec } from '../../../api/calc/money.ts';
import type { StockEntry, StockLine, StockOverview } from '../../../api/schemas/supply-stock.ts';
import type { Formatter } from '../../lib/format.ts';

/** `151.5 kg`, `3 pieces`. */
export function amountText(quantity: string, unit: StockLine['unit'], format: Formatter): string {
  if (unit !== 'each') return format.money(quantity, unit);
  return format.money(quantity, Number(quantity) === 1 ? 'piece' : 'pieces');
}

/** `USD 1.4/kg` as it is printed: money per unit. */
export const perUnit = (currency: string, unit: StockLine['unit']): string =>
  unit === 'each' ? `${currency} per piece` : `${currency}/${unit}`;

/** An average as it is printed: to four decimals, without zeros beyond the cent. */
export function averageText(averageCost: string, format: Formatter): string {
  const rounded = new Dec(averageCost).toDecimalPlaces(4);
  return format.money(rounded.decimalPlaces() < 2 ? rounded.toFixed(2) : rounded.toFixed(), '');
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names.at(-1) ?? ''}`;

/** What to buy, by when and why; null where nothing is short. */
export function shortageSentence(line: StockLine, today: string, format: Formatter): string | null {
  const { shortage } = line.outlook;
  if (shortage === null) return null;
  const batches = `${shortage.batchCodes.length === 1 ? 'batch' : 'batches'} ${listed(shortage.batchCodes)}`;
  return `Buy ${amountText(shortage.quantity, line.unit, format)} of ${line.name} ${shortage.by <= today ? 'now' : `by ${format.date(shortage.by)}`}: the planned batches take ${amountText(line.outlook.plannedQuantity, line.unit, format)}, and ${batches} would go short.`;
}

/** What is there and what is missing, for a reader in a hurry. */
export function overviewSentence(overview: StockOverview, format: Formatter): string {
  const kept = overview.lines.filter(({ stock }) => stock !== null);
  if (kept.length === 0)
    return 'No supply was bought or counted yet: batches are costed at list prices until one is.';
  const short = overview.lines.filter(({ outlook }) => outlook.shortage !== null);
  const batches = overview.plannedBatches.map(({ code }) => code);
  const ahead =
    batches.length === 0
      ? 'No batch is planned or running.'
      : short.length === 0
        ? `Nothing is short for ${batches.length === 1 ? 'batch' : 'batches'} ${listed(batches)}.`
        : `${short.length === 1 ? 'One supply falls' : `${short.length} supplies fall`} short of what ${batches.length === 1 ? 'batch' : 'batches'} ${listed(batches)} will take.`;
  return `${ahead} ${kept.length === 1 ? 'One supply is' : `${kept.length} supplies are`} kept in stock, at ${format.money(overview.totalValue, overview.currency)} in all.`;
}

/** Where a movement comes from, in words. */
export function movementWords(entry: StockEntry, lead: boolean): string {
  switch (entry.source.kind) {
    case 'purchase': {
      const { supplier, document } = entry.source;
      const from = supplier === '' ? '' : ` from ${supplier}`;
      return `Bought${from}${document === '' ? '' : `, ${document}`}`;
    }
    case 'count':
      return 'Counted';
    case 'batch':
      if (!lead) return `Batch ${entry.source.code}`;
      return `${entry.kind === 'return' ? 'Lead back from' : 'Lead for'} batch ${entry.source.code}`;
    case 'day':
      return 'Used on the day';
  }
}
