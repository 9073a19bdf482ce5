import { useSuspenseQuery } from '@tanstack/react-query';
import type { Role } from '../../../api/schemas/account.ts';
import { at } from '../../lib/binding.ts';
import type { Binding } from '../../lib/binding.ts';
import { roleSentences } from '../../lib/session.ts';
import { ChoiceField } from '../../parts/choice-field.tsx';
import { TextField } from '../../parts/text-field.tsx';
import { counterpartiesQuery } from '../terms/terms-queries.ts';

export interface AccountDraft {
  name: string;
  role: Role;
  counterpartyId: string;
}

/** What is sent of a draft: only a customer's account belongs to a counterparty. */
export function accountOf({ name, role, counterpartyId }: AccountDraft) {
  return { name, role, counterpartyId: role === 'customer' && counterpartyId !== '' ? counterpartyId : null };
}

/** Name and role of an account, and whose it is for a customer. */
export function AccountFields(props: { form: Binding<AccountDraft>; roles?: readonly Role[] }) {
  const { form, roles = ['operator', 'accountant', 'customer', 'owner'] } = props;
  const { data: counterparties } = useSuspenseQuery(counterpartiesQuery);
  return (
    <>
      <TextField
        label="Name"
        required
        maxLength={60}
        hint="As it stands beside what the person enters."
        {...at(form, 'name')}
      />
      <ChoiceField
        label="Role"
        required
        hint={roleSentences[form.value.role]}
        {...at(form, 'role')}
        choices={roles.map((role) => ({ value: role, label: role }))}
      />
      {form.value.role !== 'customer' ? null : (
        <ChoiceField
          label="Customer"
          required
          hint="One of the counterparties that terms are agreed with."
          {...at(form, 'counterpartyId')}
          choices={counterparties.map(({ id, name }) => ({ value: id, label: name }))}
        />
      )}
    </>
  );
}
