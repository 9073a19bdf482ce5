import { useSuspenseQuery } from '@tanstack/react-query';
import { lotsQuery } from '../../lib/bench-queries.ts';
import { useFormat } from '../../lib/owner.ts';
import { concentrateQuery, stockQuery } from '../../lib/production-queries.ts';

interface PartChoice {
  /** `day:<id>` */
  value: string;
  label: string;
  leftKg: string;
  madeOn: string;
}

/** Everything that a lot can be made from: days, lots and products with something left. */
export function usePartChoices(): PartChoice[] {
  const { data: days } = useSuspenseQuery(concentrateQuery);
  const { data: lots } = useSuspenseQuery(lotsQuery);
  const { data: stock } = useSuspenseQuery(stockQuery(false));
  const format = useFormat();
  const left = (kg: string): string => `${format.quantity('lotMassKg', Number(kg))} left`;
  return [
    ...days.map(({ id, day, leftKg }) => ({
      value: `day:${id}`,
      label: `Day ${format.date(day)}, ${left(leftKg)}`,
      leftKg,
      madeOn: day,
    })),
    ...lots
      .filter(({ leftKg }) => Number(leftKg) > 0)
      .map(({ id, code, leftKg, madeOn }) => ({
        value: `lot:${id}`,
        label: `Lot ${code}, ${left(leftKg)}`,
        leftKg,
        madeOn,
      })),
    ...stock.products
      .filter(({ where }) => where === 'in-stock')
      .map(({ id, code, leftDryKg, madeOn }) => ({
        value: `product:${id}`,
        label: `${code}, ${left(leftDryKg)}`,
        leftKg: leftDryKg,
        madeOn,
      })),
  ];
}
