import { describe, expect, it } from 'vitest';
import { Dec } from '../../../api/calc/money.ts';
import { settle } from '../../../api/calc/settlement/settle.ts';
import { withMoistureMoved } from '../../../api/calc/settlement/cause-figures.ts';
import { figureOf, roundestBetween, solveSteps } from '../../../api/calc/settlement/solve-figure.ts';
import { inventedParcel } from '../../bench/invented-parcels.ts';

describe('the roundest value between two', () => {
  it.each([
    ['5.75', '6.25', '6'],
    ['5.92', '5.98', '5.95'],
    ['31.02', '31.02', '31.02'],
    ['0.1', '0.9', '0.5'],
    ['-1.26', '-0.8', '-1'],
    ['5.921', '5.924', '5.923'],
    ['4.4', '4.6', '4.5'],
  ])('%s and %s is %s', (low, high, roundest) => {
    expect(roundestBetween(new Dec(low), new Dec(high)).toFixed()).toBe(roundest);
  });
});

describe('steps solved for', () => {
  const input = inventedParcel(3);
  const apply = (steps: number) => withMoistureMoved(input, (steps / 100).toFixed(2));
  const target = (id: string, at: number) => {
    const figure = figureOf(settle(apply(at)), id, true);
    if (figure === null) throw new Error(`no line ${id}`);
    return { id, money: true, figure };
  };

  it.each([37, -52, 0])('are found %s away, with all and only the steps that give the same', (steps) => {
    const wanted = target('payable/Au', steps);
    const range = solveSteps(apply, [wanted], 400);
    expect(range).not.toBeNull();
    const { from, to } = range ?? { from: 0, to: 0 };
    const meets = (at: number) => figureOf(settle(apply(at)), 'payable/Au', true)?.eq(wanted.figure);
    expect(from <= steps && steps <= to).toBe(true);
    for (let at = from - 3; at <= to + 3; at += 1) expect(meets(at), `${at}`).toBe(at >= from && at <= to);
  });

  it('are narrowed by a second line, but not by one that cannot be met', () => {
    const alone = solveSteps(apply, [target('charges/treatment', 37)], 400);
    const both = solveSteps(apply, [target('charges/treatment', 37), target('payable/Au', 37)], 400);
    expect(both).not.toBeNull();
    expect(both?.from).toBeGreaterThanOrEqual(alone?.from ?? 400);
    expect(both?.to).toBeLessThanOrEqual(alone?.to ?? -400);
    const other = { id: 'payable/Ag', money: true, figure: new Dec('1.23') };
    expect(solveSteps(apply, [target('charges/treatment', 37), other], 400)).toEqual(alone);
  });

  it('are not found out of reach, between two figures, or on a line that is not there', () => {
    expect(solveSteps(apply, [target('payable/Au', 37)], 10)).toBeNull();
    const odd = target('charges/treatment', 37).figure.plus('0.01');
    expect(solveSteps(apply, [{ id: 'charges/treatment', money: true, figure: odd }], 400)).toBeNull();
    expect(solveSteps(apply, [{ id: 'payable/Pt', money: true, figure: new Dec(1) }], 400)).toBeNull();
    expect(solveSteps(apply, [], 400)).toBeNull();
  });
});
