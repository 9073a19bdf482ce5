import { describe, expect, it } from 'vitest';
import type { StockLine, StockOverview } from '../../api/schemas/supply-stock.ts';
import { formatter } from '../../web/lib/format.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import {
  amountText,
  averageText,
  movementWords,
  overviewSentence,
  shortageSentence,
} from '../../web/pages/supply-stock/stock-words.ts';

const format = formatter(plainChoices);
const plain = (text: string | null): string => (text ?? '').replaceAll('\u00a0', ' ');
const id = '00000000-0000-4000-8000-000000000001';
const line: StockLine = {
  supplyId: id,
  name: 'Borax',
  kind: 'reagent',
  unit: 'kg',
  stock: { quantity: '63', value: '132.30', averageCost: '2.1' },
  lastCountedOn: null,
  outlook: {
    usedPerDay: null,
    daysLeft: null,
    plannedQuantity: '72',
    shortage: { quantity: '9', by: '2026-10-05', batchCodes: ['B-04', 'B-05'] },
  },
};
const overview: StockOverview = {
  asOf: '2026-09-01',
  currency: 'USD',
  lines: [line],
  totalValue: '132.30',
  plannedBatches: [
    { id, code: 'B-04', on: '2026-10-05' },
    { id, code: 'B-05', on: '2026-10-09' },
  ],
  findings: [],
};

describe('the words about stock', () => {
  it('say what to buy, by when and why', () => {
    expect(plain(shortageSentence(line, '2026-09-01', format))).toBe(
      'Buy 9 kg of Borax by 5 Oct 2026: the planned batches take 72 kg, and batches B-04 and B-05 would go short.',
    );
    expect(plain(shortageSentence(line, '2026-10-05', format))).toContain('of Borax now:');
    expect(
      shortageSentence({ ...line, outlook: { ...line.outlook, shortage: null } }, '2026-09-01', format),
    ).toBeNull();
  });

  it('say first whether anything is short', () => {
    expect(plain(overviewSentence(overview, format))).toBe(
      'One supply falls short of what batches B-04 and B-05 will take. One supply is kept in stock, at 132.30 USD in all.',
    );
    const enough = { ...line, outlook: { ...line.outlook, shortage: null } };
    expect(plain(overviewSentence({ ...overview, lines: [enough] }, format))).toContain(
      'Nothing is short for batches B-04 and B-05.',
    );
    expect(overviewSentence({ ...overview, lines: [{ ...line, stock: null }] }, format)).toContain(
      'costed at list prices',
    );
  });

  it('print averages to four decimals and not less than cents', () => {
    expect(averageText('2.1', format)).toBe('2.10');
    expect(averageText('1.394776119403', format)).toBe('1.3948');
    expect(plain(amountText('1', 'each', format))).toBe('1 piece');
  });

  it('tell where a movement comes from', () => {
    const entry = {
      key: 'k',
      on: '2026-07-08',
      kind: 'return' as const,
      quantity: '36',
      amount: '111.60',
      shortfallAmount: '0.00',
      unitCost: '3.1',
      after: { quantity: '46', value: '142.60', averageCost: '3.1' },
      source: { kind: 'batch' as const, id, code: 'B-01' },
    };
    expect(movementWords(entry, true)).toBe('Lead back from batch B-01');
    const source = { kind: 'purchase' as const, id, supplier: 'Invented Supply', document: '17' };
    expect(movementWords({ ...entry, kind: 'purchase', source }, false)).toBe(
      'Bought from Invented Supply, 17',
    );
  });
});
