import { useOwner } from '../lib/owner.ts';
import { NumberField } from './number-field.tsx';
import type { NumberFieldProps } from './number-field.tsx';

/** Money or a price in the mill's currency; `per` for a rate, for example "kg". Read it with `decimalOf`. */
export function MoneyField(props: Omit<NumberFieldProps, 'unit'> & { currency?: string; per?: string }) {
  const { currency, per, ...rest } = props;
  const owner = useOwner();
  const unit = `${currency ?? owner.currency}${per === undefined ? '' : `/${per}`}`;
  return <NumberField decimals={per === undefined ? 2 : 8} {...rest} unit={unit} />;
}
