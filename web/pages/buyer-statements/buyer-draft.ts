import { Dec, isDecimalText } from '../../../api/calc/money.ts';
import { answerableLines } from '../../../api/calc/settlement/match-lines.ts';
import type { Settlement, SettlementLine } from '../../../api/calc/settlement/statement.ts';
import type { BuyerLine, BuyerStatement, NewBuyerStatement } from '../../../api/schemas/buyer-statement.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { editableText, parseDecimal } from '../../lib/parse-decimal.ts';
import { figureReader } from '../../lib/typed-figures.ts';

/** A line of theirs as it is typed. */
export interface TheirLineDraft {
  label: string;
  /** The line of ours that it answers to; '' for none. */
  lineId: string;
  quantity: string;
  amount: string;
}

/** The other party's statement as it is typed beside ours. */
export interface BuyerDraft {
  number: string;
  datedOn: string;
  total: string;
  remarks: string;
  lines: TheirLineDraft[];
}

const emptyRow = ({ id, label }: SettlementLine): TheirLineDraft => ({
  label,
  lineId: id,
  quantity: '',
  amount: '',
});

export const newTheirLine = (): TheirLineDraft => ({ label: '', lineId: '', quantity: '', amount: '' });

/** A row for each line of ours that theirs can answer to, nothing typed yet. */
export function startingBuyerDraft(ours: Settlement): BuyerDraft {
  return {
    number: '',
    datedOn: '',
    total: '',
    remarks: '',
    lines: answerableLines(ours).map(emptyRow),
  };
}

/** Lines of theirs in the order of ours, empty rows where they have none, and what answers to nothing of ours last. */
export function rowsFor(
  ours: Settlement,
  theirs: readonly Pick<BuyerLine, 'label' | 'lineId' | 'quantity' | 'amount'>[],
  owner: OwnerChoices,
): TheirLineDraft[] {
  const known = answerableLines(ours);
  const rowOf = (line: (typeof theirs)[number], lineId: string): TheirLineDraft => ({
    label: line.label,
    lineId,
    quantity: editableText(line.quantity, owner),
    amount: editableText(line.amount, owner),
  });
  const answering = known.flatMap((our) => {
    const rows = theirs.filter(({ lineId }) => lineId === our.id).map((line) => rowOf(line, our.id));
    return rows.length === 0 ? [emptyRow(our)] : rows;
  });
  const others = theirs.filter(({ lineId }) => !known.some(({ id }) => id === lineId));
  return [...answering, ...others.map((line) => rowOf(line, ''))];
}

export function draftOfRecord(record: BuyerStatement, ours: Settlement, owner: OwnerChoices): BuyerDraft {
  return {
    number: record.number,
    datedOn: record.datedOn,
    total: editableText(record.total, owner),
    remarks: record.remarks,
    lines: rowsFor(ours, record.lines, owner),
  };
}

const isTyped = (text: string): boolean => text.trim() !== '';

/** Whether a line of theirs is money: it is unless it answers to a weight, an assay or a price of ours. */
export function isMoneyRow(row: TheirLineDraft, ours: Settlement): boolean {
  const our = ours.lines.find(({ id }) => id === row.lineId);
  return our === undefined || our.amount !== null;
}

/** Rows with nothing typed are not sent; one of theirs alone counts as soon as it has a label. */
export function isSent(row: TheirLineDraft, ours: Settlement): boolean {
  if (isTyped(row.quantity)) return true;
  if (!isMoneyRow(row, ours)) return false;
  return isTyped(row.amount) || (row.lineId === '' && isTyped(row.label));
}

/** Where a row is in what is sent; null where it is not. */
export function sentPointer(draft: BuyerDraft, place: number, ours: Settlement): string | null {
  const row = draft.lines[place];
  if (row === undefined || !isSent(row, ours)) return null;
  return `/lines/${draft.lines.slice(0, place).filter((one) => isSent(one, ours)).length}`;
}

export type BuyerEntry = Pick<NewBuyerStatement, 'number' | 'datedOn' | 'lines' | 'total' | 'remarks'>;

/** What is sent, and what of it is still empty or cannot be read. */
export function entryOfBuyerDraft(
  draft: BuyerDraft,
  ours: Settlement,
  owner: OwnerChoices,
): { entry: BuyerEntry; incomplete: readonly string[] } {
  const read = figureReader(owner);
  const lines = draft.lines
    .filter((row) => isSent(row, ours))
    .map((row, index): BuyerLine => ({
      label: read.needed(row.label, `/lines/${index}/label`),
      lineId: row.lineId === '' ? null : row.lineId,
      quantity: read.optional(row.quantity, `/lines/${index}/quantity`),
      amount: isMoneyRow(row, ours) ? read.decimal(row.amount, `/lines/${index}/amount`) : null,
    }));
  const entry = {
    number: draft.number,
    datedOn: draft.datedOn,
    lines,
    total: read.decimal(draft.total, '/total'),
    remarks: draft.remarks,
  };
  return { entry, incomplete: read.incomplete };
}

/** What a row says less what ours says; null where either is missing or cannot be read. */
export function rowDifference(
  row: TheirLineDraft,
  our: SettlementLine | undefined,
  owner: OwnerChoices,
): string | null {
  const ours = our?.amount ?? our?.result?.value ?? null;
  const typed = parseDecimal(our !== undefined && our.amount === null ? row.quantity : row.amount, owner);
  if (ours === null || !isDecimalText(ours) || !typed.ok || typed.decimal === null) return null;
  return new Dec(typed.decimal).minus(ours).toFixed();
}

/** The sum of all amounts that can be read so far. */
export function typedSum(draft: BuyerDraft, ours: Settlement, owner: OwnerChoices): string {
  const amounts = draft.lines.flatMap((row) => {
    const typed = parseDecimal(row.amount, owner);
    return isMoneyRow(row, ours) && typed.ok && typed.decimal !== null ? [typed.decimal] : [];
  });
  return amounts.reduce((sum, amount) => sum.plus(amount), new Dec(0)).toFixed(ours.moneyDecimals);
}
