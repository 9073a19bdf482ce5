import { useState } from 'react';
import { keepPreviousData, useQuery, useSuspenseQuery } from '@tanstack/react-query';
import type { Lot } from '../../../api/schemas/lot.ts';
import { useFormat } from '../../lib/owner.ts';
import { concentrateQuery, inStockQuery, lotsLeftQuery } from '../../lib/production-queries.ts';
import { useSettled } from '../../lib/use-settled.ts';

export interface PartChoice {
  /** `day:<id>` */
  value: string;
  label: string;
  leftKg: string;
  madeOn: string;
}

export interface PartChoices {
  choices: PartChoice[];
  /** Finds lots that are not among the newest; null where all are listed. */
  find: { typed: string; type: (text: string) => void } | null;
}

/** Everything that a lot can be made from: days, lots and products with something left. */
export function usePartChoices(): PartChoices {
  const { data: days } = useSuspenseQuery(concentrateQuery);
  const { data: newest } = useSuspenseQuery(lotsLeftQuery(''));
  const { data: stock } = useSuspenseQuery(inStockQuery);
  const [typed, type] = useState('');
  const sought = useSettled(typed.trim());
  const { data: found } = useQuery({
    ...lotsLeftQuery(sought),
    enabled: sought !== '',
    placeholderData: keepPreviousData,
  });
  // What was found once stays, so that a choice stays readable while another lot is sought.
  const [seen, setSeen] = useState<readonly Lot[]>([]);
  const news = (found?.rows ?? []).filter(
    ({ id }) => ![...newest.rows, ...seen].some((lot) => lot.id === id),
  );
  if (news.length > 0) setSeen([...seen, ...news]);
  const format = useFormat();
  const left = (kg: string): string => `${format.quantity('lotMassKg', Number(kg))} left`;
  const choices = [
    ...days.toReversed().map(({ id, day, leftKg }) => ({
      value: `day:${id}`,
      label: `Day ${format.date(day)}, ${left(leftKg)}`,
      leftKg,
      madeOn: day,
    })),
    ...[...seen, ...newest.rows.toReversed()].map(({ id, code, leftKg, madeOn }) => ({
      value: `lot:${id}`,
      label: `Lot ${code}, ${left(leftKg)}`,
      leftKg,
      madeOn,
    })),
    ...stock.products
      .toReversed()
      .filter(({ where }) => where === 'in-stock')
      .map(({ id, code, leftDryKg, madeOn }) => ({
        value: `product:${id}`,
        label: `${code}, ${left(leftDryKg)}`,
        leftKg: leftDryKg,
        madeOn,
      })),
  ];
  return { choices, find: newest.next === null ? null : { typed, type } };
}
