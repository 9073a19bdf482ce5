import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { TheirFigures } from './hypothesis.ts';
import type { Target } from './solve-figure.ts';

/** How far from ours a figure of theirs is looked for, in steps of its last decimal: 40 % moisture, 40 g/t. */
export const FURTHEST_STEPS = 4096;

/** What they print on the lines that are open and fit: the lines that rest on least come first. */
export function targetsOf(
  theirs: TheirFigures,
  open: ReadonlySet<string>,
  fits: (id: string) => boolean,
): Target[] {
  const order = ['weights', 'payable', 'penalties', 'charges', 'total'];
  const place = (id: string): number => order.indexOf(id.split('/')[0] ?? '');
  const ids = [...open].filter(fits).toSorted((a, b) => place(a) - place(b));
  return ids.flatMap((id) => {
    const { amount, result } = theirs.get(id) ?? { amount: null, result: null };
    const figure = amount ?? result;
    return figure === null ? [] : [{ id, money: amount !== null, figure: new Dec(figure) }];
  });
}

export function gridStep(decimals: number): DecimalNumber {
  return new Dec(10).pow(-decimals);
}

/** What else would do, where more than one figure does. */
export function othersWords(low: DecimalNumber, high: DecimalNumber, unit: string): string {
  return low.eq(high)
    ? ''
    : `; any from ${grouped(low.toFixed())} to ${`${grouped(high.toFixed())} ${unit}`.trim()} gives the same`;
}

/** Lines of theirs that rest on what was weighed and dried. */
export const restsOnMass = (id: string): boolean => /^(weights|charges|payable|total)\//.test(id);

/** More lines than this are not tried as the one that is right in all else. */
const MOST_TRIED_FIRST = 8;

/**
 * The targets with another of them first each time: where other mistakes have moved some of the lines as well,
 * the figure is found from one that they have not moved. The total comes first only where there is no other.
 */
export function eachFirst(targets: readonly Target[]): Target[][] {
  const parts = targets.filter(({ id }) => !id.startsWith('total/'));
  const heads = (parts.length === 0 ? targets : parts).slice(0, MOST_TRIED_FIRST);
  return heads.map((head) => [head, ...targets.filter((one) => one !== head)]);
}
