import { describe, expect, it } from 'vitest';
import { nativeGoldDensityGpml } from '../../../api/calc/assay/gold-alloy.ts';

describe('the density of native gold', () => {
  // T. K. Rose, *The Metallurgy of Gold*, table "Densities of gold-silver alloys" (specific gravity at 15 °C, parts of
  // gold per 1000): measured alloys, so within a percent.
  it.each([
    [1000, 19.26],
    [917, 18.08],
    [879, 17.54],
    [843, 16.96],
    [750, 16.03],
    [667, 15.07],
    [500, 13.6],
  ])('at %s per 1000 is within a percent of what was measured', (perThousand, measured) => {
    expect(Math.abs(nativeGoldDensityGpml(perThousand / 1000) / measured - 1)).toBeLessThan(0.01);
  });
});
