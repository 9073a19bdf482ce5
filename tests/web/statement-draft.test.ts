import { describe, expect, it } from 'vitest';
import { halfUp } from '../../api/calc/rounding.ts';
import { startingTerms } from '../../api/calc/terms/starting-terms.ts';
import type { Terms } from '../../api/calc/terms/terms.ts';
import type { Product } from '../../api/schemas/batch.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import { statementEntry } from '../../api/schemas/statement.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { allowedStages, usualStage } from '../../web/pages/settlements/stages.ts';
import { assaysAsked, entryOfDraft, sentPlace } from '../../web/pages/settlements/statement-draft.ts';
import type { StatementDraft } from '../../web/pages/settlements/statement-draft.ts';
import {
  draftOfEntry,
  firstStatement,
  followingStatement,
} from '../../web/pages/settlements/starting-statement.ts';
import { usualTerms } from '../../web/pages/terms/usual-terms.ts';

const productId = '5b0c1f0e-6d3a-4c55-9f83-1f2a3b4c5d6e';
const termsId = '0d4f7c1a-2b3c-4d5e-8f90-a1b2c3d4e5f6';

const product = (fields: Partial<Product>): Product => ({
  id: productId,
  batchId: '9a8b7c6d-5e4f-4a3b-8c2d-1e0f9a8b7c6d',
  version: 1,
  code: 'P-1',
  kind: 'parcel',
  madeOn: '2031-05-01',
  massKg: '512.5',
  goldFinenessFrac: null,
  silverFinenessFrac: null,
  massStandardUncertaintyKg: null,
  goldStandardUncertaintyFrac: null,
  silverStandardUncertaintyFrac: null,
  remarks: '',
  ...fields,
});

const labAssay = (element: string, unit: 'g/t' | 'percent', value: string, assayedOn: string) => ({
  id: termsId,
  laboratory: 'Laboratory (invented)',
  certificate: '',
  assayedOn,
  method: '',
  element,
  unit,
  value,
  standardUncertainty: null,
});

const lot = {
  moistureFrac: '0.0625',
  labAssays: [
    labAssay('Au', 'g/t', '99', '2031-03-01'),
    labAssay('Au', 'g/t', '34.2857', '2031-04-01'),
    labAssay('As', 'percent', '0.4', '2031-04-01'),
  ],
} as Lot;

const shipment = { shippedOn: '2031-05-02', arrivedOn: '2031-05-03' };

const first = (settled: Terms, made: Product, owner = plainChoices): StatementDraft =>
  firstStatement({
    product: made,
    lot,
    terms: { id: termsId, body: settled },
    stage: 'provisional',
    today: '2031-05-04',
    owner,
    shipment,
  });

const ownOf = (draft: StatementDraft, element: string): string | undefined =>
  draft.assays.find((row) => row.element === element)?.own;

describe('a first statement', () => {
  it('takes the newest lab assay in the unit of the contract', () => {
    // 34.2857 g/t is one troy ounce per short ton (31.1034768 g over 0.90718474 t, NIST Handbook 44, Appendix C).
    const settled: Terms = {
      ...usualTerms('concentrate', 'USD'),
      assays: [
        { element: 'Au', unit: 'oz/short ton', rounding: halfUp(3), settledBy: { kind: 'mean' } },
        { element: 'As', unit: 'g/t', rounding: halfUp(0), settledBy: { kind: 'mean' } },
        { element: 'Sb', unit: 'percent', rounding: halfUp(2), settledBy: { kind: 'mean' } },
      ],
    };
    const draft = first(settled, product({}));
    expect(Number(ownOf(draft, 'Au'))).toBeCloseTo(1, 5);
    expect(ownOf(draft, 'As')).toBe('4000');
    expect(ownOf(draft, 'Sb')).toBe('');
    expect(draft.sublots).toEqual([{ name: 'P-1', grossKg: '512.5', tareKg: '0', moistureFrac: '6.25' }]);
  });

  it('takes a parcel’s own assay before the lot’s, which stands in for what it was not assayed for', () => {
    const settled = usualTerms('concentrate', 'USD');
    const parcel = product({ silverFinenessFrac: '0.0012' });
    const own = (made: Product) => ownOf(first(settled, made), 'Au');
    expect(own(parcel)).toBe('34.2857');
    // A fraction of 0.00058 is 580 g in the tonne of 1,000,000 g.
    expect(own({ ...parcel, goldFinenessFrac: '0.00058' })).toBe('580');
    expect(ownOf(first(settled, parcel), 'Ag')).toBe('1200');
  });

  it('takes the days of the product’s shipment, as far as they are on record', () => {
    const settled = usualTerms('concentrate', 'USD');
    expect(first(settled, product({})).dates).toMatchObject({ ...shipment, statementOn: '2031-05-04' });
    const start = {
      product: product({}),
      lot,
      terms: { id: termsId, body: settled },
      stage: 'final' as const,
    };
    const day = { today: '2031-05-04', owner: plainChoices };
    const dates = (known: { shippedOn: string; arrivedOn: null } | null) =>
      firstStatement({ ...start, ...day, shipment: known }).dates;
    expect(dates({ shippedOn: '2031-05-02', arrivedOn: null })).toMatchObject({
      shippedOn: '2031-05-02',
      arrivedOn: '',
    });
    expect(dates(null)).toMatchObject({ shippedOn: '', arrivedOn: '' });
  });

  it('takes the fineness of a bar in parts per thousand and its mass in the owner’s unit', () => {
    const bar = product({
      kind: 'bar',
      massKg: '0.4512',
      goldFinenessFrac: '0.2215',
      silverFinenessFrac: null,
    });
    const draft = first(usualTerms('dore', 'USD'), bar, { ...plainChoices, metalUnit: 'ozt' });
    expect(ownOf(draft, 'Au')).toBe('221.5');
    expect(ownOf(draft, 'Ag')).toBe('');
    // 451.2 g over 31.1034768 g in a troy ounce.
    expect(Number(draft.bars[0]?.receivedG)).toBeCloseTo(451.2 / 31.1034768, 6);
  });
});

describe('what is sent', () => {
  it('is refused where an assay is more than the whole of the material', () => {
    const bar = product({ kind: 'bar', massKg: '0.4512', goldFinenessFrac: '0.2215' });
    const draft = first(usualTerms('dore', 'USD'), bar);
    const { entry } = entryOfDraft(draft, usualTerms('dore', 'USD'), plainChoices);
    const slipped = entry.assays.map((one) => (one.element === 'Ag' ? { ...one, buyer: '7345' } : one));
    const read = statementEntry.safeParse({ ...entry, assays: slipped });
    expect(read.error?.issues.map(({ path }) => path)).toEqual([['assays', 1, 'buyer']]);
  });

  it('keeps a mass as it was stored when it was only shown in another unit', () => {
    const bar = product({ kind: 'bar', massKg: '0.8123' });
    const owner = { ...plainChoices, metalUnit: 'ozt' as const };
    const { entry } = entryOfDraft(
      first(usualTerms('dore', 'USD'), bar, owner),
      usualTerms('dore', 'USD'),
      owner,
    );
    expect(entry.parcel).toEqual({
      kind: 'dore',
      bars: [{ name: 'P-1', receivedG: '812.3', afterMeltG: null }],
    });
  });

  const settled = usualTerms('concentrate', 'USD');

  it('is a statement that the server accepts, and is typed back as it was', () => {
    const draft: StatementDraft = {
      ...first(settled, product({})),
      sublots: [
        { name: 'Drum 1', grossKg: '118.5', tareKg: '9.5', moistureFrac: '6.15' },
        { name: 'Drum 2', grossKg: '116', tareKg: '9.5', moistureFrac: '6.2' },
      ],
      byPiece: true,
      assays: [{ element: 'Au', unit: 'g/t', piece: '1', own: '238', buyer: '235', umpire: '' }],
      prices: [{ metal: 'Ag', option: '', price: '28.5', basis: 'agreed by letter' }],
      items: [{ name: 'Demurrage', amount: '-45.5', reason: 'two days at the gate' }],
    };
    const { entry, incomplete } = entryOfDraft(draft, settled, plainChoices);
    expect(incomplete).toEqual([]);
    expect(statementEntry.parse(entry)).toEqual(entry);
    expect(entry.assays).toHaveLength(6);
    expect(entry.assays[1]).toEqual({
      element: 'Au',
      unit: 'g/t',
      own: '238',
      buyer: '235',
      umpire: null,
      sublot: 'Drum 2',
    });
    expect(entry.agreedPrices).toEqual([{ metal: 'Ag', price: '28.5', basis: 'agreed by letter' }]);
    const again = entryOfDraft(draftOfEntry(entry, plainChoices), settled, plainChoices);
    expect(again.entry).toEqual(entry);
  });

  it('keeps the place of every result, so that a refusal finds its field', () => {
    const draft = first(settled, product({}));
    const asked = assaysAsked(draft, settled);
    const { entry } = entryOfDraft(draft, settled, plainChoices);
    expect(asked.map((row) => row.element)).toEqual(entry.assays.map((row) => row.element));
    const rows = [{ price: '' }, { price: '28' }, { price: '' }, { price: '30' }];
    expect(rows.map((_, place) => sentPlace(rows, place, ({ price }) => price))).toEqual([0, 0, 1, 1]);
  });

  it('says which fields are still empty', () => {
    const draft = first(settled, product({}));
    const typed = { ...draft, sublots: [{ name: '', grossKg: '', tareKg: '9,5', moistureFrac: '6' }] };
    expect(entryOfDraft(typed, settled, plainChoices).incomplete).toEqual([
      '/parcel/sublots/0/name',
      '/parcel/sublots/0/grossKg',
      '/parcel/sublots/0/tareKg',
    ]);
  });
});

describe('the next statement', () => {
  const issued = (...stages: ('provisional' | 'second-provisional' | 'final' | 'adjustment')[]) =>
    stages.map((stage) => ({ stage }));
  const plain = startingTerms({ title: 'Sale', material: 'concentrate' });

  it('may only have a stage that can follow', () => {
    expect(allowedStages([])).toEqual(['provisional', 'final']);
    expect(allowedStages(issued('provisional'))).toEqual(['second-provisional', 'final']);
    expect(allowedStages(issued('provisional', 'second-provisional'))).toEqual(['final']);
    expect(allowedStages(issued('final'))).toEqual(['adjustment']);
    const noAdvance = { ...plain, provisional: null, secondProvisional: null };
    expect(allowedStages([], noAdvance)).toEqual(['final']);
    expect(allowedStages(issued('provisional'), noAdvance)).toEqual(['final']);
    expect(allowedStages(issued('provisional', 'final', 'adjustment'))).toEqual(['adjustment']);
  });

  it('is an advance only where the terms know of one', () => {
    const advance = { shareFrac: '0.85', of: 'net-value' as const };
    expect(usualStage([], { ...plain, provisional: advance })).toBe('provisional');
    expect(usualStage([], plain)).toBe('final');
    expect(usualStage(issued('provisional'), { ...plain, provisional: advance })).toBe('final');
    expect(usualStage(issued('provisional'), { ...plain, secondProvisional: advance })).toBe(
      'second-provisional',
    );
  });

  it('drops a price that was agreed for an advance, and keeps one that an adjustment stands on', () => {
    const settled = usualTerms('concentrate', 'USD');
    const draft = {
      ...first(settled, product({})),
      prices: [{ metal: 'Au', option: '', price: '2400', basis: 'letter' }],
    };
    const { entry } = entryOfDraft(draft, settled, plainChoices);
    const follow = (stage: 'final' | 'adjustment') =>
      followingStatement(entry, { stage, today: '2031-07-01', owner: plainChoices, shipment });
    expect(follow('final').prices).toEqual([]);
    expect(follow('adjustment').prices).toHaveLength(1);
    expect(follow('final').dates.statementOn).toBe('2031-07-01');
  });

  it('keeps the days of the one before, and takes those of the shipment where it had none', () => {
    const settled = usualTerms('concentrate', 'USD');
    const { entry } = entryOfDraft(first(settled, product({})), settled, plainChoices);
    const before = { ...entry, dates: { ...entry.dates, shippedOn: '2031-05-01', arrivedOn: null } };
    const next = { stage: 'final' as const, today: '2031-07-01', owner: plainChoices, shipment };
    expect(followingStatement(before, next).dates).toMatchObject({
      shippedOn: '2031-05-01',
      arrivedOn: '2031-05-03',
    });
  });
});
