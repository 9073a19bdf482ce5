import type { AccountantRow } from './accountant-row.ts';
import { figureCell, safeText, writeCsv } from './write-csv.ts';

const HEADER = [
  'date',
  'document_number',
  'document_line',
  'counterparty',
  'kind',
  'description',
  'quantity',
  'unit',
  'unit_price',
  'amount',
  'currency',
];

/**
 * The sales and costs behind a season, one row an amount, for the accountant's
 * spreadsheet: dates by ISO 8601, currencies by ISO 4217, figures as plain
 * decimal numbers. The rows of one document number add up to that statement's
 * total to the cent.
 */
export function accountantCsv(
  rows: readonly AccountantRow[],
  options: { byteOrderMark?: boolean } = {},
): string {
  return writeCsv({
    header: HEADER,
    rows: rows.map((row) => [
      safeText(row.date),
      safeText(row.documentNumber),
      safeText(row.documentLine),
      safeText(row.counterparty),
      row.kind,
      safeText(row.description),
      row.quantity === null ? '' : figureCell(row.quantity),
      safeText(row.unit),
      row.unitPrice === null ? '' : figureCell(row.unitPrice),
      figureCell(row.amount),
      safeText(row.currency),
    ]),
    byteOrderMark: options.byteOrderMark ?? false,
  });
}
