import { describe, expect, it } from 'vitest';
import { balanceOn, weighedOnFindings } from '../../../api/calc/facts/balance-from-record.ts';
import { smeltFromRecord } from '../../../api/calc/facts/smelt-from-record.ts';
import type { BalanceCheckFacts } from '../../../api/calc/facts/records.ts';
import { balance, facts, record } from './bench-facts.ts';

const repeat = (checkedOn: string, readings: number[]): BalanceCheckFacts => ({
  id: checkedOn,
  kind: 'repeat-weighing',
  checkedOn,
  readings: readings.map((readingG) => ({ nominalMassG: null, readingG })),
});
const weights = (checkedOn: string, readings: [nominalMassG: number, readingG: number][]) => ({
  id: checkedOn,
  kind: 'check-weights' as const,
  checkedOn,
  readings: readings.map(([nominalMassG, readingG]) => ({ nominalMassG, readingG })),
});
const right = (on: string) =>
  weights(on, [
    [20, 20],
    [50, 50],
    [100, 100],
  ]);
const onePercentOff = (on: string) =>
  weights(on, [
    [20, 20.2],
    [50, 50.5],
    [100, 101],
  ]);

describe('the repeatability of a balance on a day', () => {
  const checks = [repeat('2026-06-01', [20.01, 20.03, 20.02]), repeat('2026-07-01', [20, 20.04])];

  it('is the stated one unless the owner wants that of the checks', () => {
    expect(balanceOn(balance({ checks }), '2026-06-20').balance.repeatabilityG).toBe(0.01);
  });

  it('is that of the last repeat weighing up to the day, else of the first after it', () => {
    const checked = balance({ checks, repeatabilityFrom: 'checks', repeatabilityG: '0.5' });
    // Standard deviations of 0.01, 0.03, 0.02 and of 0, 0.04, by hand: 0.01 and 0.04/√2.
    expect(balanceOn(checked, '2026-06-20').balance.repeatabilityG).toBeCloseTo(0.01, 12);
    expect(balanceOn(checked, '2026-07-01').balance.repeatabilityG).toBeCloseTo(0.04 / Math.SQRT2, 12);
    expect(balanceOn(checked, '2026-05-01').balance.repeatabilityG).toBeCloseTo(0.01, 12);
  });

  it('is the stated one while nothing was weighed repeatedly', () => {
    const unchecked = balance({ repeatabilityFrom: 'checks', checks: [right('2026-06-01')] });
    expect(balanceOn(unchecked, '2026-06-20')).toMatchObject({
      balance: { repeatabilityG: 0.01 },
      repeatWeighing: null,
    });
  });
});

describe('masses weighed on a balance that was checked', () => {
  const said = (checks: BalanceCheckFacts[], massG = 100) =>
    weighedOnFindings({
      record: balance({ checks }),
      on: '2026-06-20',
      masses: [{ name: 'the sample', massG }],
      path: '/sampleBalance',
    });

  it('are doubted after a bad check, by the error at that load', () => {
    const [finding] = said([right('2026-05-01'), onePercentOff('2026-06-10')]);
    expect(finding).toMatchObject({
      code: 'weighed-on-bad-balance',
      level: 'warning',
      path: '/sampleBalance',
    });
    expect(finding?.sentence).toContain('2026-06-10: 1 g too much at 100 g (the sample)');
    expect(said([onePercentOff('2026-06-10')], 200)[0]?.sentence).toContain('2 g too much at 200 g');
  });

  it('are doubted where the check after found it wrong, but not when a good one stands between', () => {
    expect(said([right('2026-06-10'), onePercentOff('2026-07-01')])[0]).toMatchObject({
      code: 'balance-found-wrong-later',
      sentence: expect.stringContaining('On 2026-06-10 it was still right'),
    });
    expect(said([onePercentOff('2026-07-01')])[0]?.sentence).toContain('It was not checked before');
    expect(said([right('2026-06-25'), onePercentOff('2026-07-01')])).toEqual([]);
    expect(said([onePercentOff('2026-06-10'), right('2026-06-12')])).toEqual([]);
  });

  it('are not doubted by more than a note where the error is at other loads', () => {
    // 1 % of 0.3 g is 0.003 g: less than the step of 0.01 g.
    expect(said([onePercentOff('2026-06-10')], 0.3)).toMatchObject([{ level: 'note' }]);
  });

  it('are only noted where the error is less than half a percent of the mass', () => {
    const slightly = weights('2026-06-10', [
      [20, 20.04],
      [50, 50.1],
      [100, 100.2],
    ]);
    expect(said([slightly])).toMatchObject([{ code: 'weighed-on-bad-balance', level: 'note' }]);
  });

  it('are doubted by a single check weight too', () => {
    expect(said([weights('2026-06-10', [[100, 100.3]])])[0]?.sentence).toContain('0.3 g too much at 100 g');
    expect(said([weights('2026-06-10', [[100, 100.01]])])).toEqual([]);
  });

  it('say so on the test smelt, for the sample’s and the bead’s balance each', () => {
    const { findings } = smeltFromRecord(record, {
      ...facts,
      balances: [
        balance({ id: 'bench', checks: [onePercentOff('2026-06-10')] }),
        balance({
          id: 'bead',
          readabilityG: '0.001',
          repeatabilityG: '0.001',
          checks: [
            weights('2026-06-10', [
              [0.05, 0.055],
              [0.1, 0.105],
              [0.5, 0.505],
            ]),
          ],
        }),
      ],
    });
    expect(findings.map(({ path }) => path)).toEqual(['/sampleBalance', '/beadBalance']);
    expect(findings[1]?.sentence).toContain(
      '0.005 g too much at 0.32 g (the bead), 0.005 g too much at 0.075 g (the gold)',
    );
  });
});
