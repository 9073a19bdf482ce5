import type { RecoveredByTrialChart } from '../../reports/charts/recovered-by-trial.ts';
import type { NetValueChart } from '../../reports/charts/net-value-by-treatment.ts';
import type { ForecastChart } from '../../reports/charts/forecast-against-actual.ts';
import type { DriversChart } from '../../reports/charts/drivers-of-difference.ts';
import type { PriceHistoryChart } from '../../reports/charts/price-history.ts';

/** Invented figures for the charts. */
export const recoveredExample: RecoveredByTrialChart = {
  title: 'Recovered by trial, lot 7',
  unit: 'g/t',
  trials: [
    {
      name: 'Smelted as it is',
      gold: { value: 212.4, u: 9.8 },
      silver: { value: 1840, u: 65 },
      replicates: [
        { gold: 203, silver: 1790 },
        { gold: 221, silver: 1890 },
      ],
    },
    {
      name: 'Roasted two hours at a dull heat, then smelted with borax and soda ash, second recipe after the crucible broke',
      gold: { value: 268, u: 11.2 },
      silver: null,
      replicates: [
        { gold: 259, silver: null },
        { gold: 277, silver: null },
      ],
    },
    { name: 'With iron', gold: null, silver: null, replicates: [] },
  ],
};

export const netValueExample: NetValueChart = {
  title: 'Net value by treatment, lot 7',
  unit: 'USD',
  treatments: [
    { name: 'Roast first, smelt, part', low: 2310, median: 3480, high: 4790, best: true },
    { name: 'Smelt with iron', low: 1180, median: 2240, high: 3350, best: false },
    {
      name: 'Sell the concentrate to the buyer with the long name on the coast',
      low: -640,
      median: 410,
      high: 1620,
      best: false,
    },
    { name: 'Smelt as it is', low: -1900, median: -1120, high: -310, best: false },
  ],
};

export const forecastExample: ForecastChart = {
  title: 'Forecast against actual',
  quantity: 'Gold poured',
  unit: 'g',
  batches: [
    { name: 'Batch 12', forecast: { low: 41, median: 52.5, high: 63 }, actual: 55.4 },
    { name: 'Batch 13', forecast: { low: 30.2, median: 35, high: 40.9 }, actual: 27.8 },
    { name: 'Batch 14', forecast: { low: 44, median: 51, high: 60 }, actual: null },
    { name: 'Batch 15', forecast: null, actual: 12.3 },
  ],
};

export const priceExample: PriceHistoryChart = {
  title: 'Gold price',
  metal: 'gold',
  unit: 'USD/ozt',
  quotations: [
    { date: '2031-05-04', price: 2391.5 },
    { date: '2031-05-01', price: 2350.1 },
    { date: '2031-05-11', price: 2412.25 },
    { date: '2031-05-25', price: 2377 },
    { date: '2031-06-08', price: 2440.75 },
  ],
  period: { label: 'May, month of arrival', from: '2031-05-01', to: '2031-05-31', mean: 2382.71 },
};

export const driversExample: DriversChart = {
  title: 'What the difference between “Roast first, smelt, part” and “Smelt with iron” rests on',
  drivers: [
    { label: 'gold recovery of "Roast first, smelt, part"', shareFrac: 0.482 },
    { label: 'gold price in 22 days', shareFrac: 0.214 },
    {
      label: 'gold assay of the buyer of "Sell the concentrate to the buyer with the long name on the coast"',
      shareFrac: 0.081,
    },
    { label: 'true silver grade', shareFrac: 0.0064 },
    { label: 'labour hours of "Smelt with iron"', shareFrac: 0.002 },
  ],
};
