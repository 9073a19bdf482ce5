import { describe, expect, it } from 'vitest';
import type { Batch } from '../../api/schemas/batch.ts';
import type { Lot } from '../../api/schemas/lot.ts';
import type { StatementSummary } from '../../api/schemas/statement.ts';
import type { Quotation, Supply } from '../../api/schemas/supply.ts';
import { formatter } from '../../web/lib/format.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { ageText } from '../../web/pages/prices/series.ts';
import { seasonOn, standing } from '../../web/pages/today/standing.ts';
import { unfinishedWork } from '../../web/pages/today/unfinished-work.ts';

const today = '2031-08-20';
const lot = (code: string, leftKg: string) => ({ id: code, code, leftKg, seasonId: 's31' }) as Lot;
const batch = (code: string, parts: Partial<Batch> = {}) =>
  ({ id: code, code, lotId: 'L-1', status: 'planned', settled: null, ...parts }) as Batch;
const statement = (number: string | null, parts: Partial<StatementSummary> = {}) =>
  ({
    id: number ?? 'draft',
    number,
    status: number === null ? 'draft' : 'issued',
    stage: 'provisional',
    supersedesNumber: null,
    ...parts,
  }) as StatementSummary;
const quotation = (metal: string, quotedOn: string, unit: Quotation['unit'] = 'ozt'): Quotation => ({
  metal,
  quotedOn,
  price: '1',
  currency: 'USD',
  unit,
  source: '',
});
const nothing = { lots: [], batches: [], statements: [], supplies: [], quotations: [] };
const settled = (total: string): Partial<Batch> => ({
  status: 'done',
  currency: 'USD',
  actualNetValue: total,
  settled: { total, heldBack: '0.00', stage: 'final', statementNumber: 'S-0001' },
});

describe('unfinishedWork', () => {
  it('lists lots with mass left and batches by what they wait for', () => {
    const work = unfinishedWork(
      {
        ...nothing,
        lots: [lot('L-1', '0'), lot('L-2', '0.00001')],
        batches: [
          batch('B-1'),
          batch('B-2', { status: 'running' }),
          batch('B-3', { status: 'done' }),
          batch('B-4', settled('100')),
          batch('B-5', { status: 'cancelled' }),
        ],
      },
      today,
    );
    expect(work.lotsLeft.map(({ code }) => code)).toEqual(['L-2']);
    expect(work.planned.map(({ code }) => code)).toEqual(['B-1']);
    expect(work.running.map(({ code }) => code)).toEqual(['B-2']);
    expect(work.unsettled.map(({ code }) => code)).toEqual(['B-3']);
  });

  it('waits for the final statement until one that names the provisional is issued', () => {
    const provisional = statement('S-0001');
    const final = statement('S-0002', { stage: 'final', supersedesNumber: 'S-0001' });
    const waiting = (statements: StatementSummary[]): (string | null)[] =>
      unfinishedWork({ ...nothing, statements }, today).provisional.map(({ number }) => number);
    expect(waiting([provisional])).toEqual(['S-0001']);
    expect(waiting([provisional, { ...final, number: null, status: 'draft' }])).toEqual(['S-0001']);
    expect(waiting([provisional, final])).toEqual([]);
    const second = statement('S-0002', { stage: 'second-provisional', supersedesNumber: 'S-0001' });
    expect(waiting([provisional, second])).toEqual(['S-0002']);
  });

  it('goes by the newest quotation of a metal, and by more than a week', () => {
    const { stale } = unfinishedWork(
      {
        ...nothing,
        quotations: [
          quotation('Au', '2031-08-13'),
          quotation('Ag', '2031-08-12'),
          quotation('Pb', '2031-01-01', 'lb'),
          quotation('Pb', '2031-08-20', 't'),
        ],
      },
      today,
    );
    expect(stale.map(({ metal }) => metal)).toEqual(['Ag']);
  });

  it('counts a supply whose first price is yet to come as unpriced', () => {
    const supply = (name: string, effectiveOn: string) =>
      ({ name, prices: [{ effectiveOn, price: '1', currency: 'USD' }] }) as Supply;
    const { unpriced } = unfinishedWork(
      { ...nothing, supplies: [supply('Borax', '2031-08-21'), supply('Nitre', '2031-08-20')] },
      today,
    );
    expect(unpriced.map(({ name }) => name)).toEqual(['Borax']);
  });
});

describe('where the season stands', () => {
  const season = { id: 's31', name: '2031', startsOn: '2031-05-01', endsOn: '2031-10-31', version: 1 };
  const said = (lots: Lot[], batches: Batch[], name = '2031'): string =>
    standing({ season: { ...season, name }, lots, batches }, formatter(plainChoices), 'USD').replaceAll(
      '\u00a0',
      ' ',
    );

  it('is said in one sentence from the first lot to the last statement', () => {
    expect(said([], [])).toBe('Season 2031 has no lot yet.');
    expect(said([lot('L-1', '120.06')], [])).toBe(
      'Season 2031: 120.1 kg dry is left in one lot; no batch is planned yet.',
    );
    expect(said([lot('L-1', '120'), lot('L-2', '30')], [batch('B-1')])).toBe(
      'Season 2031: 150.0 kg dry is left in 2 lots; one batch planned or made, none settled yet.',
    );
    expect(
      said([lot('L-1', '0')], [batch('B-1', settled('1000.10')), batch('B-2', settled('-50')), batch('B-3')]),
    ).toBe('Season 2031: 2 of 3 batches have brought 950.10 USD net so far; 0.0 kg dry is left in one lot.');
  });

  it('leaves out what was cancelled, and what belongs to another season', () => {
    expect(
      said(
        [lot('L-1', '10'), { ...lot('L-9', '99'), seasonId: 's30' }],
        [batch('B-1', { status: 'cancelled' }), batch('B-9', { ...settled('7'), lotId: 'L-9' })],
      ),
    ).toBe('Season 2031: 10.0 kg dry is left in one lot; no batch is planned yet.');
  });

  it('does not say season twice', () => {
    expect(said([], [], 'Season of 2031')).toBe('Season of 2031 has no lot yet.');
  });

  it('takes the season that the day falls in, else the newest', () => {
    const older = { ...season, id: 's30', startsOn: '2030-05-01', endsOn: '2030-10-31' };
    expect(seasonOn([season, older], '2030-07-01')?.id).toBe('s30');
    expect(seasonOn([season, older], '2032-01-01')?.id).toBe('s31');
    expect(seasonOn([], today)).toBeNull();
  });
});

it('says the age of a quotation in days, over a change of the clocks too', () => {
  expect(ageText('2031-08-20', today)).toBe('today');
  expect(ageText('2031-08-19', today)).toBe('1 day');
  expect(ageText('2031-03-01', '2031-04-01')).toBe('31 days');
});
