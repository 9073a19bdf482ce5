import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import { halfUp } from '../../../api/calc/rounding.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { startingTerms } from '../../../api/calc/terms/starting-terms.ts';
import { termsSentences } from '../../../api/calc/terms/terms-sentences.ts';
import type { Terms } from '../../../api/calc/terms/terms.ts';
import { statementReport } from '../../../reports/model/statement-report.ts';
import { paintReport } from '../../../reports/pdf/paint-report.ts';
import { assay, assayRule, concentrate, metal, NO_DATES } from '../../calc/settlement/support.ts';
import { statementInput } from '../fixtures.ts';
import { checkSound, pageTexts, pdfToolsMissing } from '../pdf-tools.ts';

const started = startingTerms({ title: 'Lead-silver-gold concentrate', material: 'concentrate' });

const paidUnitThenPercent = (
  symbol: string,
  unit: 'lb' | 'ozt',
  price: string,
  deduction: string,
  off: string,
) =>
  metal(
    symbol,
    unit,
    price,
    { kind: 'unit-then-percent', paidFrac: '0.95', deduction },
    { refining: { kind: 'price-reduction', rate: off, escalators: [] } },
  );

/** The terms of the class exercise "valorización" of a lead-silver-gold concentrate, author not stated, prices of about 2010. */
const terms: Terms = {
  ...started,
  factors: { ...started.factors, poundsPerTonne: '2204.6', shortTonsPerTonne: '1.1023' },
  weights: { kind: 'dry', unit: 'tonne', franchiseFrac: '0.02' },
  valuation: { kind: 'per-tonne', unit: 'tonne', totalPerTonne: true },
  assays: [
    assayRule('Pb', 'percent'),
    assayRule('Ag', 'oz/short ton'),
    assayRule('Au', 'oz/short ton'),
    assayRule('As', 'percent'),
    assayRule('Sb', 'percent'),
  ],
  metals: [
    paidUnitThenPercent('Pb', 'lb', '0.8260', '1', '0.035'),
    paidUnitThenPercent('Ag', 'ozt', '17.68', '0', '0.35'),
    paidUnitThenPercent('Au', 'ozt', '1186.10', '0', '10'),
  ],
  charges: [
    {
      kind: 'per-mass',
      purpose: 'treatment',
      name: 'Treatment charge',
      currency: null,
      rate: '195',
      basis: 'settlement',
      unit: 'tonne',
      minimum: null,
      escalators: [],
    },
  ],
  penalties: ['As', 'Sb'].map((element) => ({
    name: element,
    elements: [element],
    unit: 'percent',
    ladder: { kind: 'marginal', counting: 'pro-rata', bands: [{ from: '0.2', step: '0.1', rate: '2' }] },
    basis: 'settlement',
    massUnit: 'tonne',
    refusedAbove: null,
  })),
  rounding: { ...started.rounding, mass: halfUp(3), perTonneValue: halfUp(4), money: halfUp(3) },
};

describe.skipIf(pdfToolsMissing())('the published exercise "valorización", worked and printed', () => {
  const settlement = settle({
    terms,
    stage: 'final',
    parcel: concentrate('1000000', '0.02'),
    assays: [
      assay('Pb', 'percent', '48'),
      assay('Ag', 'oz/short ton', '20'),
      assay('Au', 'oz/short ton', '1'),
      assay('As', 'percent', '0.4'),
      assay('Sb', 'percent', '0.5'),
    ],
    prices: [],
    dates: NO_DATES,
    previouslyPaid: [],
  });
  const report = statementReport(
    statementInput({
      settlement,
      termsName: terms.title,
      termsSentences: termsSentences(terms),
      quotations: [],
      changeFromPrevious: null,
    }),
  );

  it('shows its figures on the page: 960.400 t, 778.6239, 362.9543 and 1,231.5943 USD a tonne, 2,082,312.869 USD', async () => {
    const bytes = await paintReport({ report, page: 'A4', createdAt: new Date('2026-08-14T09:30:00Z') });
    checkSound(bytes);
    const text = pageTexts(bytes).join('\n');
    expect(text).toMatch(/960\.400 tonne/);
    for (const value of ['778.6239', '362.9543', '1,231.5943']) expect(text).toContain(`${value} USD/tonne`);
    const account = text.split('Account in USD\n')[1]?.split('Standing of this statement')[0] ?? '';
    expect(account).toMatch(/Buyer owes seller +2,082,312\.869/);
    const amounts = [...account.matchAll(/^(?!Sum of|Buyer owes)\S.* {2,}(−?[\d,]+\.\d{3})$/gm)].map(
      (match) => (match[1] ?? '').replaceAll(',', '').replace('−', '-'),
    );
    const sum = amounts.reduce((total, amount) => total.plus(amount), new Decimal(0));
    expect(sum.toFixed(3)).toBe('2082312.869');
  });
});
