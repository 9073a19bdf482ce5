import { matchLines } from '../calc/settlement/match-lines.ts';
import type { Settlement } from '../calc/settlement/statement.ts';
import { Problem } from '../problem.ts';
import { MOST_BUYER_LINES, type ReadBuyerLines } from '../schemas/buyer-statement.ts';
import { decimal, name } from '../schemas/fields.ts';
import { z } from 'zod';
import type { FileSettings } from './cells.ts';
import { columnOfField, optional, required, type FileKind } from './file-kind.ts';
import { understandFile, type UnderstoodRow } from './understand-file.ts';

const row = z.object({ label: name(200), quantity: decimal().nullable(), amount: decimal().nullable() });
type Row = z.infer<typeof row>;

/** A table of the lines of the other party's statement. */
const buyerLinesFile: FileKind<Row> = {
  columns: [required('label'), optional('quantity'), optional('amount')],
  keyOf: ({ label }) => label,
  titleOf: ({ label }) => `Line ${label}`,
  understand: (reader) =>
    reader.checked(
      row,
      { label: reader.name('label'), quantity: reader.decimal('quantity'), amount: reader.decimal('amount') },
      ([field]) => columnOfField(field),
    ),
  shown: ({ label, quantity, amount }) => ({ label, quantity: quantity ?? '', amount: amount ?? '' }),
};

const isTotal = ({ label, amount }: Row): boolean => amount !== null && /^total$/i.test(label);

/**
 * Reads a table of the other party's lines and proposes for each the line of ours that it answers to. A row
 * named total gives their total; a row without a figure is a heading and left out.
 */
export async function readBuyerLines({
  bytes,
  settings,
  ours,
  signal,
}: {
  bytes: Uint8Array;
  settings: FileSettings;
  ours: Settlement;
  signal: AbortSignal;
}): Promise<ReadBuyerLines> {
  const rows: UnderstoodRow<Row>[] = [];
  const { rowCount, problems } = await understandFile<Row>({
    bytes,
    kind: buyerLinesFile,
    settings,
    watch: { report: () => {}, signal },
    onRows: (some) => {
      if (rows.length <= MOST_BUYER_LINES) rows.push(...some);
      return Promise.resolve();
    },
  });
  if (rowCount > MOST_BUYER_LINES)
    throw new Problem('validation', `The table has ${rowCount} rows; at most ${MOST_BUYER_LINES} are read.`);
  const entries = rows.flatMap(({ row: line, entry }) => (entry === null ? [] : [{ row: line, ...entry }]));
  const totals = entries.filter(isTotal);
  totals
    .slice(1)
    .forEach(({ row: line, label }) => problems.add(line, 'label', label, () => 'There is a second total.'));
  const isFigure = ({ quantity, amount }: Row): boolean => quantity !== null || amount !== null;
  const lines = entries.filter((entry) => isFigure(entry) && !isTotal(entry));
  const matches = matchLines(ours, lines);
  return {
    lines: lines.map((line, index) => ({
      ...line,
      lineId: matches[index]?.id ?? null,
      by: matches[index]?.by ?? null,
    })),
    total: totals[0]?.amount ?? null,
    leftOut: entries.filter((entry) => !isFigure(entry)).map(({ label }) => label),
    problems: problems.listed,
    problemCount: problems.count(),
  };
}
