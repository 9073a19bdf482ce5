import { describe, expect, it } from 'vitest';
import { settle } from '../../api/calc/settlement/settle.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import {
  draftOfRecord,
  entryOfBuyerDraft,
  newTheirLine,
  rowDifference,
  rowsFor,
  sentPointer,
  startingBuyerDraft,
  typedSum,
} from '../../web/pages/buyer-statements/buyer-draft.ts';
import type { BuyerDraft } from '../../web/pages/buyer-statements/buyer-draft.ts';
import { csvOfPasted } from '../../web/pages/buyer-statements/pasted-table.ts';
import { inventedParcel } from '../bench/invented-parcels.ts';

const ours = settle(inventedParcel(4));
const comma = { ...plainChoices, decimalComma: true };

function typed(changes: Record<string, Partial<BuyerDraft['lines'][number]>>, total = '1'): BuyerDraft {
  const draft = startingBuyerDraft(ours);
  return {
    ...draft,
    total,
    lines: draft.lines.map((row) => ({ ...row, ...changes[row.lineId] })),
  };
}

describe('a statement of theirs as it is typed', () => {
  it('starts with a row for every line of ours that theirs can answer to, and sends none of them', () => {
    const draft = startingBuyerDraft(ours);
    const ids = draft.lines.map(({ lineId }) => lineId);
    expect(ids).toContain('charges/treatment');
    expect(ids).toContain('assays/Au');
    expect(ids).not.toContain('payable/Au/grade');
    expect(ids).not.toContain('total/total');
    expect(entryOfBuyerDraft(draft, ours, plainChoices)).toMatchObject({
      entry: { lines: [] },
      incomplete: ['/total'],
    });
  });

  it('sends what is typed, money with its amount and figures with their quantity, in the order of the rows', () => {
    const draft = typed({
      'charges/freight': { amount: '-850,20', quantity: '15,5' },
      'assays/Au': { quantity: '40,1', amount: '7' },
    });
    draft.lines.push({ label: 'Weighbridge', lineId: '', quantity: '', amount: '-35' });
    expect(entryOfBuyerDraft({ ...draft, total: '99,5' }, ours, comma)).toEqual({
      incomplete: [],
      entry: {
        number: '',
        datedOn: '',
        remarks: '',
        total: '99.5',
        lines: [
          { label: 'Au', lineId: 'assays/Au', quantity: '40.1', amount: null },
          { label: 'Freight', lineId: 'charges/freight', quantity: '15.5', amount: '-850.20' },
          { label: 'Weighbridge', lineId: null, quantity: null, amount: '-35' },
        ],
      },
    });
  });

  it('knows where a row is in what is sent, and what of it cannot be read', () => {
    const draft = typed({ 'charges/freight': { amount: 'x' }, 'assays/Au': { quantity: '40.1' } });
    draft.lines.push(newTheirLine(), { ...newTheirLine(), label: 'Fee' });
    const place = (id: string) => draft.lines.findIndex(({ lineId }) => lineId === id);
    expect(sentPointer(draft, place('assays/Au'), ours)).toBe('/lines/0');
    expect(sentPointer(draft, place('charges/freight'), ours)).toBe('/lines/1');
    expect(sentPointer(draft, place('charges/lot'), ours)).toBeNull();
    expect(sentPointer(draft, draft.lines.length - 2, ours)).toBeNull();
    expect(sentPointer(draft, draft.lines.length - 1, ours)).toBe('/lines/2');
    expect(entryOfBuyerDraft(draft, ours, plainChoices).incomplete).toEqual([
      '/lines/1/amount',
      '/lines/2/amount',
    ]);
  });

  it('comes back from what was kept as it was typed, what ours no longer has at the end', () => {
    const lines = [
      { label: 'Odd', lineId: 'charges/gone', quantity: null, amount: '-1.00' },
      { label: 'Road', lineId: 'charges/freight', quantity: null, amount: '-800.20' },
      { label: 'Port', lineId: 'charges/freight', quantity: '2', amount: '-50.00' },
    ];
    const record = {
      id: 'r',
      statementId: 's',
      number: 'K-1',
      datedOn: '2026-07-01',
      lines,
      total: '5.10',
      remarks: '',
      version: 1,
    };
    const draft = draftOfRecord(record, ours, plainChoices);
    const rows = draft.lines.filter(({ amount }) => amount !== '');
    expect(rows.map(({ label, lineId }) => [label, lineId])).toEqual([
      ['Road', 'charges/freight'],
      ['Port', 'charges/freight'],
      ['Odd', ''],
    ]);
    expect(entryOfBuyerDraft(draft, ours, plainChoices).entry.lines).toHaveLength(3);
    expect(rowsFor(ours, [], plainChoices)).toEqual(startingBuyerDraft(ours).lines);
  });

  it('shows differences and the sum as far as they can be read', () => {
    const freight = ours.lines.find(({ id }) => id === 'charges/freight');
    const gold = ours.lines.find(({ id }) => id === 'assays/Au');
    const row = { label: '', lineId: '', quantity: gold?.result?.value ?? '', amount: freight?.amount ?? '' };
    expect(rowDifference(row, freight, plainChoices)).toBe('0');
    expect(rowDifference(row, gold, plainChoices)).toBe('0');
    expect(rowDifference({ ...row, amount: '0' }, freight, plainChoices)).toBe(
      (freight?.amount ?? '').replace('-', ''),
    );
    expect(rowDifference({ ...row, amount: '' }, freight, plainChoices)).toBeNull();
    expect(rowDifference({ ...row, amount: '1.2.3' }, freight, plainChoices)).toBeNull();
    expect(rowDifference(row, undefined, plainChoices)).toBeNull();
    const draft = typed({
      'charges/freight': { amount: '-10.5' },
      'charges/lot': { amount: 'x' },
      'payable/Au': { amount: '100' },
    });
    expect(typedSum(draft, ours, plainChoices)).toBe('89.50');
  });
});

describe('a table pasted from a spreadsheet', () => {
  it('becomes quotes and commas where it has tabs', () => {
    expect(csvOfPasted('label\tamount\nA "big" fee, road\t-1,50')).toBe(
      '"label","amount"\r\n"A ""big"" fee, road","-1,50"',
    );
    expect(csvOfPasted('"one ""two"""\t3')).toBe('"one ""two""","3"');
    expect(csvOfPasted('label;amount\nFee;-1,50')).toBe('label;amount\nFee;-1,50');
  });
});
