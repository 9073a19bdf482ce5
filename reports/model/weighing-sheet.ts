import type { ChargeSheet } from '../../api/calc/smelting/charge-sheet.ts';
import type { ChargeSheetInput } from '../../api/calc/smelting/charge-sheet-input.ts';
import { formatDecimal } from './format.ts';
import type { Block, TableBlock, TableRow } from './report.ts';
import { figure, text } from './table-parts.ts';

/** A sheet with more rows than this is of no use at a furnace: the rest goes on further copies. */
const MOST_ROWS = 200;

/** A blank sheet to carry to the furnace: a row a charge, with boxes for what is weighed and when. */
export function weighingSheetBlocks(sheet: ChargeSheet, worked: ChargeSheetInput): Block[] {
  const rows = rowsOf(sheet);
  const more =
    rows.length < sheet.chargeCount
      ? ` It has rows for the first ${rows.length} of ${sheet.chargeCount} charges; go on on further copies.`
      : '';
  return [
    { kind: 'page', orientation: 'landscape' },
    { kind: 'heading', text: 'Weighing sheet' },
    {
      kind: 'paragraph',
      text: `Masses in grams, times of day. Write every mass down when it is read, and cross out what is wrong instead of overwriting it.${more}`,
    },
    {
      kind: 'table',
      caption: 'The day',
      columns: [
        text('date', 'Date', 16),
        text('by', 'Worked by', 26),
        text('scale', 'Scale checked with, g', 22),
        text('crucible', 'Crucible, and charges it has had', 36),
      ],
      rows: [{ style: 'plain', cells: {} }],
      toFillIn: true,
    },
    {
      kind: 'table',
      caption: 'Charge by charge',
      columns: columnsFor(sheet, worked),
      rows,
      toFillIn: true,
    },
  ];
}

function columnsFor({ roast, ironKg }: ChargeSheet, { treatment }: ChargeSheetInput): TableBlock['columns'] {
  const iron = Number(ironKg) > 0;
  const metallicLead = treatment.recipe.some((line) => line.kind === 'lead');
  return [
    text('charge', 'Charge', 6),
    figure('concentrate', 'Concentrate', 9),
    ...(roast === null ? [] : [text('before', 'Before roast', 9), text('after', 'After roast', 9)]),
    ...(metallicLead ? [text('lead', 'Lead in', 9)] : []),
    ...(iron ? [text('ironIn', 'Iron in', 8)] : []),
    text('in', 'Time in', 7),
    text('out', 'Time out', 7),
    ...(iron ? [text('ironOut', 'Iron out', 8)] : []),
    text('button', 'Button', 9),
    text('matte', 'Matte, speiss', 9),
    text('slag', 'Slag', 9),
    text('bead', 'Bead or bar', 9),
    text('remarks', 'Remarks', 20),
  ];
}

function rowsOf({ charges }: ChargeSheet): TableRow[] {
  const rows: TableRow[] = [];
  for (const { count, concentrateG } of charges)
    for (let nth = 0; nth < count && rows.length < MOST_ROWS; nth += 1)
      rows.push({
        style: 'plain',
        cells: { charge: String(rows.length + 1), concentrate: formatDecimal(concentrateG) },
      });
  return rows;
}
