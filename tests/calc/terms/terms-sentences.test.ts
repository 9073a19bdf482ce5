import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { grouped } from '../../../api/calc/money.ts';
import { percentText } from '../../../api/calc/terms/payable-form.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { concentrateTerms, doreTerms } from '../settlement/arbitrary-terms.ts';
import { assayRule, metal } from '../settlement/support.ts';

/** Every decimal of a contract, with the path it stands at. */
function decimalsOf(node: unknown, path = ''): [string, string][] {
  if (typeof node === 'string') return /^-?\d+(\.\d+)?$/.test(node) ? [[path, node]] : [];
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([name, value]) => decimalsOf(value, `${path}/${name}`));
}

describe('a contract read back', () => {
  it.each([
    ['concentrate', concentrateTerms],
    ['doré', doreTerms],
  ])('leaves out no number of a contract for %s', (_material, anyTerms) => {
    fc.assert(
      fc.property(anyTerms, (terms) => {
        const read = termsSentences(terms)
          .map(({ sentence }) => sentence)
          .join(' ');
        for (const [path, value] of decimalsOf(terms)) {
          // Nothing taken off and all of it paid go without saying.
          if (Number(value) === 0 || (/(paidFrac|ofFrac)$/.test(path) && Number(value) === 1)) continue;
          const written = [value, grouped(value), percentText(value)];
          expect(
            written.some((text) => read.includes(text)),
            `${path} ${value}`,
          ).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('says a contract in plain words', () => {
    const terms: Terms = {
      ...startingTerms({ title: 'Gold concentrate, an invented buyer', material: 'concentrate' }),
      weights: { kind: 'dry', unit: 'kg', franchiseFrac: '0.005' },
      assays: [assayRule('Au', 'g/t', 2)],
      metals: [
        metal(
          'Au',
          'ozt',
          '0',
          { kind: 'lesser-of', paidFrac: '0.97', deduction: '1' },
          {
            minimumGrade: '5',
            price: {
              unit: 'ozt',
              currency: null,
              paidFrac: '1',
              reduction: '12.50',
              basis: {
                kind: 'quotations',
                source: 'an invented daily price',
                period: { kind: 'business-days', event: 'arrival', from: 1, to: 5, holidays: [] },
                provisional: { kind: 'mean-of-last', quotations: 3 },
              },
            },
          },
        ),
      ],
      provisional: { shareFrac: '0.85', of: 'net-value' },
      payment: [{ stage: 'final', days: 10, dayKind: 'business', after: 'statement' }],
    };
    const read = termsSentences(terms).map(({ clause, sentence }) => `${clause}: ${sentence}`);
    expect(read.slice(0, 7)).toEqual([
      'Material: We sell concentrate under “Gold concentrate, an invented buyer”. The settlement is in USD.',
      'Weights: Masses are in kg: gross less tare is wet, less moisture is dry; less a franchise of 0.5 % of the dry mass.',
      "Assay of Au: In g/t, to 2 decimals, halves up. The buyer's result counts.",
      'Payment for Au: Paid is the lesser of 97 % of the assay and the assay less 1 g/t. Below 5 g/t nothing is paid.',
      'Payment for Au: The price is the mean of the daily quotations (an invented daily price, USD/ozt) over business days 1 to 5 after arrival; until then the mean of the last 3 quotations. The price is reduced by 12.50 USD/ozt.',
      'Payment: Provisionally 85 % of the net value is paid.',
      'Payment: The final payment is due 10 business days after the statement.',
    ]);
  });
});
