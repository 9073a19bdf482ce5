import fc from 'fast-check';
import { QueryClient, QueryClientProvider } from '@tanstack/react-query';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Dec, isDecimalText } from '../../api/calc/money.ts';
import { checkTerms } from '../../api/calc/terms/check-terms.ts';
import { termsSentences } from '../../api/calc/terms/terms-sentences.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';
import { settle } from '../../api/calc/settlement/settle.ts';
import { termsSchema } from '../../api/schemas/terms.ts';
import { bindWhole } from '../../web/lib/binding.ts';
import { OwnerProvider, plainChoices } from '../../web/lib/owner.ts';
import { figureWriter } from '../../web/lib/typed-figures.ts';
import { ContractFields } from '../../web/pages/terms/contract-fields.tsx';
import { draftOfTerms } from '../../web/pages/terms/draft-of-terms.ts';
import { ReadingContext } from '../../web/pages/terms/reading.tsx';
import { sampleInput, startingSample } from '../../web/pages/terms/sample-parcel.ts';
import type { TermsDraft } from '../../web/pages/terms/terms-draft.ts';
import { termsOfDraft } from '../../web/pages/terms/terms-of-draft.ts';
import { usualTerms } from '../../web/pages/terms/usual-terms.ts';
import { concentrateTerms, doreTerms } from '../calc/settlement/arbitrary-terms.ts';

const comma = { ...plainChoices, decimalComma: true };
const anyTerms = fc.oneof(concentrateTerms, doreTerms);

/** Decimal texts by their value: 0.950 and 0.95 are the same figure. */
function byValue(node: unknown): unknown {
  if (typeof node === 'string') return isDecimalText(node) ? new Dec(node).toFixed() : node;
  if (Array.isArray(node)) return node.map(byValue);
  if (typeof node !== 'object' || node === null) return node;
  return Object.fromEntries(Object.entries(node).map(([name, value]) => [name, byValue(value)]));
}

describe('a contract as typed', () => {
  it('reads back as the same contract, whatever its clauses, with points and with commas', () => {
    fc.assert(
      fc.property(anyTerms, fc.constantFrom(plainChoices, comma), (terms, owner) => {
        const { terms: read, incomplete } = termsOfDraft(draftOfTerms(terms, figureWriter(owner)), owner);
        expect(incomplete).toEqual([]);
        expect(byValue(read)).toEqual(byValue(terms));
      }),
      { numRuns: 150 },
    );
  });

  it('notes every figure that is empty or cannot be read under its pointer', () => {
    const draft = draftOfTerms(usualTerms('concentrate', 'USD'), figureWriter(plainChoices));
    const [gold, ...others] = draft.metals;
    if (gold === undefined) throw new Error('The contract pays for no metal.');
    const typed: TermsDraft = {
      ...draft,
      title: ' ',
      metals: [{ ...gold, form: { ...gold.form, paidFrac: '' }, minimumGrade: '1,5' }, ...others],
      rounding: { ...draft.rounding, money: { ...draft.rounding.money, decimals: '1.5' } },
    };
    expect(termsOfDraft(typed, plainChoices).incomplete.toSorted()).toEqual([
      '/metals/0/form/paidFrac',
      '/metals/0/minimumGrade',
      '/rounding/money/decimals',
      '/title',
    ]);
  });
});

/** The text of the editor as it first stands. */
function editorText(terms: Terms): string {
  const draft = draftOfTerms(terms, figureWriter(plainChoices));
  const reading = { ...termsOfDraft(draft, plainChoices), findings: checkTerms(terms) };
  const form = bindWhole(draft, () => undefined);
  const fields = createElement(ContractFields, { form });
  return renderToStaticMarkup(
    createElement(
      QueryClientProvider,
      { client: new QueryClient() },
      createElement(
        OwnerProvider,
        { value: plainChoices },
        createElement(ReadingContext, { value: reading }, fields),
      ),
    ),
  )
    .replaceAll('&#x27;', "'")
    .replaceAll('&quot;', '"')
    .replaceAll('&amp;', '&');
}

describe('the contract editor', () => {
  it('shows every sentence of a contract beside its fields, and every finding', () => {
    fc.assert(
      fc.property(anyTerms, (terms) => {
        const { terms: read } = termsOfDraft(draftOfTerms(terms, figureWriter(plainChoices)), plainChoices);
        const text = editorText(read);
        const due = [...termsSentences(read), ...checkTerms(read)].map(({ sentence }) => sentence);
        expect(due.filter((sentence) => !text.includes(sentence))).toEqual([]);
      }),
      { numRuns: 12 },
    );
  });

  it('shows a contradiction at the clause that makes it', () => {
    const usual = usualTerms('concentrate', 'USD');
    const text = editorText({ ...usual, assays: usual.assays.filter((rule) => rule.element !== 'Ag') });
    expect(text.includes('Ag is paid for, but the contract does not say how its assay is settled.')).toBe(
      true,
    );
  });
});

describe('the starting points', () => {
  it.each(['concentrate', 'dore'] as const)('are sound and settle the sample parcel at once: %s', (start) => {
    const terms = usualTerms(start, 'USD');
    expect(termsSchema.parse(terms)).toEqual(terms);
    expect(checkTerms(terms)).toEqual([]);
    const quotations = [
      {
        metal: 'Au',
        price: '2400',
        currency: 'USD',
        unit: 'ozt' as const,
        quotedOn: '2031-05-02',
        source: '',
      },
      { metal: 'Ag', price: '30', currency: 'USD', unit: 'ozt' as const, quotedOn: '2031-05-02', source: '' },
    ];
    const input = sampleInput({
      sample: startingSample(plainChoices),
      terms,
      quotations,
      owner: plainChoices,
      today: '2031-05-04',
    });
    if (input === null) throw new Error('The sample could not be read.');
    const settlement = settle(input);
    expect(settlement.findings.filter(({ level }) => level === 'blocker')).toEqual([]);
    expect(Number(settlement.total)).toBeGreaterThan(0);
  });
});
