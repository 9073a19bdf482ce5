import { describe, expect, it } from 'vitest';
import { averageDuplicates } from '../../../api/calc/assay/lab-duplicates.ts';

const of = (...assays: [laboratory: string, value: number, u: number | null][]) =>
  averageDuplicates({
    element: 'Au',
    unit: 'g/t',
    assays: assays.map(([laboratory, value, u]) => ({ laboratory, value, u })),
  });

describe('duplicates of a laboratory', () => {
  it('are averaged and keep the uncertainty of one result', () => {
    const { results, findings } = of(['A', 900, 10], ['B', 950, 20], ['A', 910, 10]);
    expect(results).toEqual([
      { laboratory: 'A', value: 905, u: 10, n: 2 },
      { laboratory: 'B', value: 950, u: 20, n: 1 },
    ]);
    expect(findings).toEqual([]);
  });

  it('have the scatter over √n where that is larger, and it is said', () => {
    const { results, findings } = of(['A', 900, 5], ['A', 960, 5]);
    // Standard deviation 60/√2, over √2: 30.
    expect(results[0]?.u).toBeCloseTo(30, 9);
    // Chi-square (30/5)² + (30/5)² = 72 on one degree of freedom: far below 0.1 %.
    expect(findings).toMatchObject([{ code: 'duplicates-scatter', level: 'warning' }]);
    expect(findings[0]?.sentence).toContain('from 900 to 960 g/t');
  });

  it('state nothing together where none of them states anything and they agree', () => {
    expect(of(['A', 900, null], ['A', 901, null]).results).toEqual([
      { laboratory: 'A', value: 900.5, u: null, n: 2 },
    ]);
  });

  it('leave a single result as it is', () => {
    expect(of(['A', 900, null]).results).toEqual([{ laboratory: 'A', value: 900, u: null, n: 1 }]);
  });
});
