import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import type { FileSettings } from './cells.ts';
import type { ImportKind } from '../schemas/import.ts';
import { csvTemplate } from '../../reports/csv/templates.ts';

/**
 * The file to fill in, as the mill's settings have files: where decimals come after a comma, cells are separated
 * by semicolons. It begins with a byte order mark, so that spreadsheets read it as UTF-8.
 */
export function templateFile(
  kind: ImportKind,
  { decimalComma, reagentNames }: Pick<FileSettings, 'decimalComma'> & { reagentNames: readonly string[] },
): string {
  const csv = csvTemplate(kind, { reagentNames, byteOrderMark: true });
  if (!decimalComma) return csv;
  const rows = parse(csv, { bom: true }).map((cells) =>
    cells.map((cell) => (/^\d+\.\d+$/.test(cell) ? cell.replace('.', ',') : cell)),
  );
  return stringify(rows, {
    bom: true,
    delimiter: ';',
    record_delimiter: 'windows',
    quote_record_delimiter: true,
  });
}
