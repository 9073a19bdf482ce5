import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Scene } from '../../reports/charts/scene.ts';
import { recoveredByTrial, recoveredByTrialTable } from '../../reports/charts/recovered-by-trial.ts';
import {
  netValueByTreatment,
  netValueByTreatmentTable,
} from '../../reports/charts/net-value-by-treatment.ts';
import {
  forecastAgainstActual,
  forecastAgainstActualTable,
} from '../../reports/charts/forecast-against-actual.ts';
import { driversOfDifference, driversOfDifferenceTable } from '../../reports/charts/drivers-of-difference.ts';
import { priceHistory, priceHistoryTable } from '../../reports/charts/price-history.ts';
import {
  driversExample,
  forecastExample,
  netValueExample,
  priceExample,
  recoveredExample,
} from './examples.ts';
import { isRoundedToTenths, marksOutside, textsOf } from './inside-frame.ts';

const width = fc.integer({ min: 240, max: 760 });
const anyValue = fc.oneof(
  fc.double({ min: -1e4, max: 1e4, noNaN: true }),
  fc.double({ min: -1e12, max: 1e12, noNaN: true }),
  fc.constantFrom(0, 1e-6, 1e12, Number.NaN, Number.POSITIVE_INFINITY),
);
const mostlyNumber = fc.option(anyValue, { freq: 5 });
const anyName = fc.oneof(fc.string({ maxLength: 20 }), fc.lorem({ maxCount: 40 }));
const anyMeasured = fc.option(
  fc.record({ value: anyValue, u: fc.double({ min: 0, max: 1e9, noNaN: true }) }),
);
const anyForecast = fc.option(
  fc
    .array(fc.double({ min: -1e9, max: 1e9, noNaN: true }), { minLength: 3, maxLength: 3 })
    .map((values) => values.toSorted((a, b) => a - b))
    .map(([low = 0, median = 0, high = 0]) => ({ low, median, high })),
);
const anyDate = fc
  .integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2060, 0, 1) })
  .map((time) => new Date(time).toISOString().slice(0, 10));

function expectDrawable(scene: Scene): void {
  expect(marksOutside(scene)).toEqual([]);
  expect(isRoundedToTenths(scene)).toBe(true);
  expect(JSON.stringify(scene)).not.toMatch(/NaN|Infinity/);
  expect(scene.description).not.toBe('');
}

describe('a chart keeps every mark inside its frame', () => {
  it('recovered by trial', () => {
    const chart = fc.record({
      title: fc.constant('Recovered'),
      unit: fc.constantFrom('g/t', 'oz/short ton'),
      trials: fc.array(
        fc.record({
          name: anyName,
          gold: anyMeasured,
          silver: anyMeasured,
          replicates: fc.array(fc.record({ gold: mostlyNumber, silver: mostlyNumber }), { maxLength: 4 }),
        }),
        { maxLength: 6 },
      ),
    });
    fc.assert(
      fc.property(chart, width, (input, widthPt) => expectDrawable(recoveredByTrial(input, widthPt))),
    );
  });

  it('net value by treatment', () => {
    const chart = fc.record({
      title: fc.constant('Net value'),
      unit: fc.constant('USD'),
      treatments: fc.array(
        fc.record({
          name: anyName,
          low: anyValue,
          median: anyValue,
          high: anyValue,
          best: fc.boolean(),
        }),
        { maxLength: 6 },
      ),
    });
    fc.assert(
      fc.property(chart, width, (input, widthPt) => expectDrawable(netValueByTreatment(input, widthPt))),
    );
  });

  it('forecast against actual', () => {
    const chart = fc.record({
      title: fc.constant('Forecast against actual'),
      quantity: fc.constant('Gold poured'),
      unit: fc.constant('g'),
      batches: fc.array(fc.record({ name: anyName, forecast: anyForecast, actual: mostlyNumber }), {
        maxLength: 6,
      }),
    });
    fc.assert(
      fc.property(chart, width, (input, widthPt) => expectDrawable(forecastAgainstActual(input, widthPt))),
    );
  });

  it('drivers of a difference', () => {
    const chart = fc.record({
      title: fc.constant('Drivers'),
      drivers: fc.array(fc.record({ label: anyName, shareFrac: anyValue }), { maxLength: 12 }),
    });
    fc.assert(
      fc.property(chart, width, (input, widthPt) => expectDrawable(driversOfDifference(input, widthPt))),
    );
  });

  it('price history', () => {
    const chart = fc.record({
      title: fc.constant('Price'),
      metal: fc.constantFrom('gold' as const, 'silver' as const),
      unit: fc.constant('USD/ozt'),
      quotations: fc.array(
        fc.record({ date: anyDate, price: fc.double({ min: 0.001, max: 1e9, noNaN: true }) }),
        { maxLength: 30 },
      ),
      period: fc.option(
        fc.record({
          label: anyName,
          from: anyDate,
          to: anyDate,
          mean: fc.option(fc.double({ min: 0.001, max: 1e9, noNaN: true })),
        }),
      ),
    });
    fc.assert(fc.property(chart, width, (input, widthPt) => expectDrawable(priceHistory(input, widthPt))));
  });
});

describe('a chart with nothing to draw says so', () => {
  it.each([
    [recoveredByTrial({ ...recoveredExample, trials: [] }, 320), 'No trial with a result yet.'],
    [netValueByTreatment({ ...netValueExample, treatments: [] }, 320), 'No treatment to compare yet.'],
    [forecastAgainstActual({ ...forecastExample, batches: [] }, 320), 'No batch to compare yet.'],
    [priceHistory({ ...priceExample, quotations: [] }, 320), 'No quotations entered yet.'],
    [
      driversOfDifference({ ...driversExample, drivers: [] }, 320),
      'Nothing that is uncertain moves the difference.',
    ],
  ])('%#', (scene, sentence) => {
    expect(textsOf(scene)).toEqual([sentence]);
    expect(scene.description).toBe(sentence);
  });
});

describe('what a chart says without colour', () => {
  it('names the best treatment, and hatches only what is below zero', () => {
    const scene = netValueByTreatment(netValueExample, 480);
    expect(textsOf(scene).filter((text) => text.startsWith('best,'))).toEqual(['best, 3,500 USD']);
    const hatched = scene.marks.filter((mark) => mark.kind === 'rect' && mark.hatched);
    expect(hatched).toHaveLength(2);
  });

  it('places a bar that crosses zero on both sides of the zero line', () => {
    const scene = netValueByTreatment(netValueExample, 480);
    const zeroLine = scene.marks.find((mark) => mark.kind === 'line' && mark.width === 1.2);
    const losses = scene.marks.filter((mark) => mark.kind === 'rect' && mark.role === 'loss');
    if (zeroLine?.kind !== 'line' || losses[0]?.kind !== 'rect') throw new Error('marks not found');
    expect(losses[0].x + losses[0].width).toBeCloseTo(zeroLine.x1, 0);
  });

  it('says in words where an actual fell outside its forecast', () => {
    const texts = textsOf(forecastAgainstActual(forecastExample, 480));
    expect(texts).toContain('27.8 g, below range');
    expect(texts).toContain('55 g, within range');
    expect(texts).toContain('not finished');
  });

  it('cuts a long name in the picture and keeps it whole in the table', () => {
    const long = recoveredExample.trials[1]?.name ?? '';
    expect(textsOf(recoveredByTrial(recoveredExample, 320)).some((text) => text.endsWith('…'))).toBe(true);
    expect(recoveredByTrialTable(recoveredExample).rows[1]?.cells.name).toBe(long);
  });

  it('leaves a share that may be chance to the table', () => {
    const drawn = textsOf(driversOfDifference(driversExample, 480)).join(' ');
    expect(drawn).toContain('48\u00a0%');
    expect(drawn).not.toContain('Labour hours');
    expect(driversOfDifferenceTable(driversExample).rows.at(-1)?.cells.share).toBe('below 1\u00a0%');
  });

  it('draws a single quotation as a point without a line', () => {
    const scene = priceHistory(
      { ...priceExample, quotations: [{ date: '2031-05-04', price: 2400 }], period: null },
      320,
    );
    expect(scene.marks.some((mark) => mark.kind === 'path')).toBe(false);
    expect(scene.marks.filter((mark) => mark.kind === 'circle')).toHaveLength(1);
  });
});

describe('scenes and tables as they were last looked at', () => {
  const file = (name: string): string => `../snapshots/charts/${name}.json`;
  it.each([
    ['recovered-by-trial-wide', recoveredByTrial(recoveredExample, 480)],
    ['recovered-by-trial-narrow', recoveredByTrial(recoveredExample, 320)],
    ['net-value-by-treatment', netValueByTreatment(netValueExample, 480)],
    ['forecast-against-actual', forecastAgainstActual(forecastExample, 480)],
    ['price-history', priceHistory(priceExample, 480)],
    ['drivers-of-difference', driversOfDifference(driversExample, 480)],
    ['recovered-by-trial-table', recoveredByTrialTable(recoveredExample)],
    ['net-value-by-treatment-table', netValueByTreatmentTable(netValueExample)],
    ['forecast-against-actual-table', forecastAgainstActualTable(forecastExample)],
    ['price-history-table', priceHistoryTable(priceExample)],
    ['drivers-of-difference-table', driversOfDifferenceTable(driversExample)],
  ])('%s', async (name, drawn) => {
    await expect(`${JSON.stringify(drawn, null, 1)}\n`).toMatchFileSnapshot(file(name));
  });
});
