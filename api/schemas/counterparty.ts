import { z } from 'zod';
import { id, name, text, version } from './fields.ts';

export const newCounterparty = z.object({
  name: name(),
  address: text(500).default(''),
  remarks: text(2000).default(''),
});
export const counterpartyChange = newCounterparty.extend({ version });
export const counterparty = newCounterparty.extend({ id, version });
export type Counterparty = z.infer<typeof counterparty>;
