import { expect, it } from 'vitest';
import { packingListReport } from '../../../reports/model/packing-list-report.ts';

const product = (code: string, kind: string, massKg: string) => ({ code, kind, massKg });

it('adds up what is printed: bars in grams, parcels to the gram, and no digit lost in the sum', () => {
  const { blocks } = packingListReport({
    shipment: {
      code: 'SH-1',
      shippedOn: '2031-07-10',
      carrier: '',
      seals: '',
      insuredFor: null,
      insuredCurrency: null,
      insurer: '',
      remarks: '',
      counterpartyName: 'Refiner (invented)',
      products: [product('BAR-1', 'bar', '0.4512'), product('BAR-2', 'bar', '0.31108')],
    },
    mill: { name: 'Mill (invented)', address: '', isDemo: true },
    counterpartyAddress: '',
  });
  const table = blocks.find((block) => block.kind === 'table');
  expect(table?.kind === 'table' && table.rows.map(({ cells }) => cells['massKg'])).toEqual([
    '0.45120',
    '0.31108',
    '0.76228',
  ]);
  expect(blocks.find((block) => block.kind === 'lead')).toMatchObject({
    text: '2 pieces, 0.76228 kg net in all, shipped on 10 Jul 2031.',
  });
});
