import { describe, expect, it } from 'vitest';
import type { Quotation, Supply } from '../../api/schemas/supply.ts';
import type { Today } from '../../api/schemas/today.ts';
import { formatter } from '../../web/lib/format.ts';
import { plainChoices } from '../../web/lib/owner.ts';
import { seasonOn } from '../../web/lib/use-season.ts';
import { ageText } from '../../web/pages/prices/series.ts';
import { standing } from '../../web/pages/today/standing.ts';
import { isNothing, stalePrices } from '../../web/pages/today/unfinished-work.ts';

const today = '2031-08-20';
const quotation = (metal: string, quotedOn: string, unit: Quotation['unit'] = 'ozt'): Quotation => ({
  metal,
  quotedOn,
  price: '1',
  currency: 'USD',
  unit,
  source: '',
});

describe('what waits beside the records', () => {
  it('goes by the newest quotation of a metal, and by more than a week', () => {
    const { stale } = stalePrices(
      {
        supplies: [],
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
    const { unpriced } = stalePrices(
      { quotations: [], supplies: [supply('Borax', '2031-08-21'), supply('Nitre', '2031-08-20')] },
      today,
    );
    expect(unpriced.map(({ name }) => name)).toEqual(['Borax']);
  });

  it('is nothing only where no list and no price is left', () => {
    const none = { first: [], count: 0 };
    const quiet = {
      running: none,
      planned: none,
      unsettled: none,
      drafts: none,
      provisional: none,
      lotsLeft: none,
      unpriced: [],
      stale: [],
    };
    expect(isNothing(quiet)).toBe(true);
    expect(isNothing({ ...quiet, planned: { first: [], count: 1 } })).toBe(false);
    expect(isNothing({ ...quiet, stale: [quotation('Au', '2031-01-01')] })).toBe(false);
  });
});

describe('where the season stands', () => {
  const season = { id: 's31', name: '2031', startsOn: '2031-05-01', endsOn: '2031-10-31', version: 1 };
  const nothing = { id: 's31', name: '2031', lots: 0, leftKg: '0', batches: 0, settled: 0, netValue: '0.00' };
  const said = (parts: Partial<NonNullable<Today['season']>>): string =>
    standing({ ...nothing, ...parts }, formatter(plainChoices), 'USD').replaceAll('\u00a0', ' ');

  it('is said in one sentence from the first lot to the last statement', () => {
    expect(said({})).toBe('Season 2031 has no lot yet.');
    expect(said({ lots: 1, leftKg: '120.06' })).toBe(
      'Season 2031: 120.1 kg dry is left in one lot; no batch is planned yet.',
    );
    expect(said({ lots: 2, leftKg: '150', batches: 1 })).toBe(
      'Season 2031: 150.0 kg dry is left in 2 lots; one batch planned or made, none settled yet.',
    );
    expect(said({ lots: 1, batches: 3, settled: 2, netValue: '950.10' })).toBe(
      'Season 2031: 2 of 3 batches have brought 950.10 USD net so far; 0.0 kg dry is left in one lot.',
    );
  });

  it('does not say season twice', () => {
    expect(said({ name: 'Season of 2031' })).toBe('Season of 2031 has no lot yet.');
  });

  it('takes the season that the day falls in, else the newest', () => {
    const older = { ...season, id: 's30', startsOn: '2030-05-01', endsOn: '2030-10-31' };
    expect(seasonOn([season, older], '2030-07-01')?.id).toBe('s30');
    expect(seasonOn([season, older], '2032-01-01')?.id).toBe('s31');
    expect(seasonOn([], today)).toBeUndefined();
  });
});

it('says the age of a quotation in days, over a change of the clocks too', () => {
  expect(ageText('2031-08-20', today)).toBe('today');
  expect(ageText('2031-08-19', today)).toBe('1 day');
  expect(ageText('2031-03-01', '2031-04-01')).toBe('31 days');
});
