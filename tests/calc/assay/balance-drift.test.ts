import { describe, expect, it } from 'vitest';
import { checkBalance } from '../../../api/calc/assay/balance-check.ts';
import { balanceDrift } from '../../../api/calc/assay/balance-drift.ts';

const balance = { name: 'Bench', readabilityG: 0.01, repeatabilityG: 0.01 };
const check = (on: string, ...readings: [number, number][]) => ({
  on,
  weights: readings.map(([nominalMassG, readingG]) => ({ nominalMassG, readingG })),
});

describe('drift of a balance between checks', () => {
  it('is the change of one weight’s reading, with the uncertainty of two weighings', () => {
    const [drift] = balanceDrift({
      checks: [check('2026-06-01', [20, 20.01], [100, 100]), check('2026-07-01', [20, 20.02], [100, 100.06])],
      balance,
    });
    expect(drift).toMatchObject({ from: '2026-06-01', to: '2026-07-01', nominalMassG: 100 });
    expect(drift?.changeG).toBeCloseTo(0.06, 12);
    // JCGM 100:2008, 4.3.7 and 5.1.2: two readings each rounded within ± d/2, and the repeatability, twice.
    expect(drift?.uG).toBeCloseTo(Math.sqrt(2 * (0.01 ** 2 / 6 + 0.01 ** 2)), 12);
    expect(drift?.finding?.code).toBe('balance-drifted');
  });

  it('is not spoken of while weighing twice explains it', () => {
    const [drift] = balanceDrift({
      checks: [check('2026-07-01', [100, 100.02]), check('2026-06-01', [100, 100])],
      balance,
    });
    expect(drift?.changeG).toBeCloseTo(0.02, 12);
    expect(drift?.finding).toBeNull();
  });

  it('needs a weight in common', () => {
    const checks = [check('2026-06-01', [50, 50]), check('2026-07-01', [100, 100.5])];
    expect(balanceDrift({ checks, balance })).toEqual([]);
    expect(balanceDrift({ checks: checks.slice(1), balance })).toEqual([]);
  });
});

describe('one or two check weights', () => {
  it('are held against the uncertainty of their own weighing', () => {
    const codes = (readingG: number) =>
      checkBalance({ checks: [{ nominalMassG: 100, readingG }], ...balance }).findings.map(
        ({ code }) => code,
      );
    // 2u = 2·√(0.01²/6 + 0.01²) = 0.0216 g.
    expect(codes(100.02)).toEqual(['few-check-weights']);
    expect(codes(100.03)).toEqual(['balance-reads-wrong', 'few-check-weights']);
  });
});
