import type { Treatment } from '../../../api/schemas/treatment.ts';
import type { Choice } from '../../parts/choice-field.tsx';

/** The choice that stands for selling the concentrate as it is; a treatment's id otherwise. */
export const SALE = 'sale';

/** Every way to work a lot up: sold as it is, or by a treatment in use. */
export function wayChoices(treatments: readonly Treatment[], kept: string | null = null): Choice<string>[] {
  return [
    { value: SALE, label: 'Sell the concentrate as it is' },
    ...treatments
      .filter((one) => !one.retired || one.id === kept)
      .map((one) => ({ value: one.id, label: one.name })),
  ];
}

/** Terms under which it can be sold then: a refiner's for the bar, a buyer's for the concentrate. */
export function termsChoices(
  terms: readonly {
    id: string;
    isNewest: boolean;
    material: string;
    counterpartyName: string;
    name: string;
  }[],
  way: string,
): Choice<string>[] {
  const wanted = way === SALE ? 'concentrate' : 'dore';
  return terms
    .filter((one) => one.isNewest && one.material === wanted)
    .map((one) => ({ value: one.id, label: `${one.counterpartyName}: ${one.name}` }));
}

export const termsHint = (way: string): string =>
  way === SALE ? 'Of the buyer who takes the concentrate.' : 'Of the refiner who takes the bar.';
