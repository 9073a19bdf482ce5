import { expect, it } from 'vitest';
import { metalAccount } from '../../api/calc/books/metal-account.ts';
import { lossesBeyondForecast } from '../../reports/model/month-metal-tables.ts';

const g = (label: string, value: number, u: number) => ({ label, metalG: { value, u } });

it('does not miss twice what a forecast loses and an assay of matte finds again', () => {
  // 100 g of silver in, 90 g in the bead, 7 g in the matte by assay, 3 g gone with fume; the forecast left 10 g behind.
  const account = metalAccount({
    metal: 'silver',
    opening: [g('lot', 100, 1)],
    received: [],
    released: [],
    closing: [g('bead', 90, 0.5), g('matte', 7, 0.5)],
  });
  const of = (byProductsG: number) =>
    lossesBeyondForecast({
      account: { account } as Parameters<typeof lossesBeyondForecast>[0]['account'],
      forecastLossG: { value: 10, u: 1 },
      byProductsG,
      inProductsG: { bar: 0, parcel: 0 },
      payableFrac: {},
    })?.value;
  expect(account.unaccountedG.value).toBeCloseTo(-3, 12);
  // −3 g are unaccounted for; of the 10 g foreseen 7 g were found again, so 3 g were foreseen to be gone: none is left.
  expect(of(7)).toBeCloseTo(0, 12);
  expect(of(0)).toBeCloseTo(7, 12);
});
