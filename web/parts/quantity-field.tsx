import { useOwner } from '../lib/owner.ts';
import { shownUnit } from '../lib/quantities.ts';
import type { Quantity } from '../lib/quantities.ts';
import { NumberField } from './number-field.tsx';
import type { NumberFieldProps } from './number-field.tsx';

/**
 * A mass of a lot, a mass of metal, a grade or a temperature, typed in the
 * owner's unit. Limits are in that unit too. Fill it with `shownText` and read
 * it with `storedOf`.
 */
export function QuantityField(props: Omit<NumberFieldProps, 'unit'> & { quantity: Quantity }) {
  const { quantity, ...rest } = props;
  return <NumberField {...rest} unit={shownUnit(quantity, useOwner())} />;
}
