import { addDays, isBusinessDay } from '../calc/calendar.ts';
import { createRandom } from '../calc/random.ts';
import type { Quotation } from '../schemas/supply.ts';

const SOURCE = 'Invented quotation';

/** A year and more of invented daily prices: a seeded random walk about a level, no market's record. */
export function inventedQuotations(from: string, to: string): Quotation[] {
  const random = createRandom(9, 'demo/quotations');
  const series = [
    { metal: 'Au', unit: 'ozt', price: 2310, dailySd: 0.0085, drift: 0.0003, decimals: 2 },
    { metal: 'Ag', unit: 'ozt', price: 27.4, dailySd: 0.016, drift: 0.0003, decimals: 3 },
    { metal: 'Pb', unit: 't', price: 2050, dailySd: 0.011, drift: 0, decimals: 2 },
  ] as const;
  const prices: number[] = series.map((one) => one.price);
  const quotations: Quotation[] = [];
  for (let day = from; day <= to; day = addDays(day, 1)) {
    if (!isBusinessDay(day)) continue;
    series.forEach(({ metal, unit, dailySd, drift, decimals }, i) => {
      const price = prices[i]! * Math.exp(drift + dailySd * random.normal());
      prices[i] = price;
      quotations.push({
        metal,
        quotedOn: day,
        price: price.toFixed(decimals),
        currency: 'USD',
        unit,
        source: SOURCE,
      });
    });
  }
  return quotations;
}
