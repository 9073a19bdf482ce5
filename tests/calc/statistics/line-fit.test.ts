import { describe, expect, it } from 'vitest';
import { fitLine, lineAt } from '../../../api/calc/statistics/line-fit.ts';

describe('a straight line through points', () => {
  // JCGM 100:2008, example H.3, Table H.6: corrections b of a thermometer at eleven temperatures t, fitted as
  // b = y1 + y2(t − 20 °C): y1 −0.1712 ± 0.0029 °C, y2 0.00218 ± 0.00067, r −0.930, s 0.0035 °C; at 30 °C
  // −0.1494 ± 0.0041 °C.
  const points = [
    [21.521, -0.171],
    [22.012, -0.169],
    [22.512, -0.166],
    [23.003, -0.159],
    [23.507, -0.164],
    [23.999, -0.165],
    [24.513, -0.156],
    [25.002, -0.157],
    [25.503, -0.159],
    [26.01, -0.161],
    [26.511, -0.16],
  ].map(([t = 0, b = 0]) => ({ x: t - 20, y: b }));

  it('fits the thermometer of GUM H.3', () => {
    const line = fitLine(points);
    if (line === null) throw new Error('eleven points make a line');
    expect(line.intercept.value).toBeCloseTo(-0.1712, 4);
    expect(line.intercept.u).toBeCloseTo(0.0029, 4);
    expect(line.slope.value).toBeCloseTo(0.00218, 5);
    expect(line.slope.u).toBeCloseTo(0.00067, 5);
    expect(line.covariance / (line.intercept.u * line.slope.u)).toBeCloseTo(-0.93, 3);
    expect(line.residualStandardDeviation).toBeCloseTo(0.0035, 4);
    expect(line.degreesOfFreedom).toBe(9);
    expect(lineAt({ line, x: 10 }).value).toBeCloseTo(-0.1494, 4);
    expect(lineAt({ line, x: 10 }).u).toBeCloseTo(0.0041, 4);
  });

  it('needs three points of different x', () => {
    expect(fitLine(points.slice(0, 2))).toBeNull();
    expect(fitLine([1, 2, 3].map((y) => ({ x: 7, y })))).toBeNull();
  });

  it('is without uncertainty where the points lie on it', () => {
    const line = fitLine([1, 2, 3, 4].map((x) => ({ x, y: 2 * x + 1 })));
    if (line === null) throw new Error('four points make a line');
    expect(lineAt({ line, x: 2.5 }).value).toBeCloseTo(6, 12);
    expect(lineAt({ line, x: 2.5 }).u).toBeCloseTo(0, 12);
  });
});
