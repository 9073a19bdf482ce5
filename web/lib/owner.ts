import { createContext, useContext, useMemo } from 'react';
import type { Mill } from '../../api/schemas/mill.ts';
import { formatter } from './format.ts';
import type { Formatter } from './format.ts';

/** How the owner wants figures shown and typed. */
export type OwnerChoices = Pick<
  Mill,
  'currency' | 'massUnit' | 'metalUnit' | 'gradeUnit' | 'temperatureUnit' | 'decimalComma'
>;

/** In force until the mill's own settings have arrived. */
export const plainChoices: OwnerChoices = {
  currency: 'USD',
  massUnit: 'kg',
  metalUnit: 'g',
  gradeUnit: 'g/t',
  temperatureUnit: '°C',
  decimalComma: false,
};

const OwnerContext = createContext<OwnerChoices>(plainChoices);

export const OwnerProvider = OwnerContext.Provider;

export const useOwner = (): OwnerChoices => useContext(OwnerContext);

/** All formats of figures, in the owner's units. */
export function useFormat(): Formatter {
  const choices = useOwner();
  return useMemo(() => formatter(choices), [choices]);
}
