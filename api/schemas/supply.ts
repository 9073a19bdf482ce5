import { z } from 'zod';
import { currency, decimal, element, id, isoDate, name, number, price, text, version } from './fields.ts';

export const supplyKinds = [
  'reagent',
  'lead',
  'litharge',
  'iron',
  'fuel',
  'crucible',
  'cupel',
  'labour',
  'other',
] as const;
export const supplyUnits = ['kg', 'L', 'each', 'h'] as const;
const supplyFields = z.object({
  name: name(),
  kind: z.enum(supplyKinds),
  unit: z.enum(supplyUnits),
  /** To the brim. */
  crucibleVolumeMl: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  /** Lead that one cupel can take up. */
  cupelLeadCapacityG: number({ above: 0, max: 1_000_000 }).nullable().default(null),
});

type Sized = { kind: string; crucibleVolumeMl: number | null; cupelLeadCapacityG: number | null };
const crucibleOnly = (supply: Sized) => supply.kind === 'crucible' || supply.crucibleVolumeMl === null;
const noCrucible = { path: ['crucibleVolumeMl'], error: 'must be left empty for anything but a crucible' };
const cupelOnly = (supply: Sized) => supply.kind === 'cupel' || supply.cupelLeadCapacityG === null;
const noCupel = { path: ['cupelLeadCapacityG'], error: 'must be left empty for anything but a cupel' };

export const newSupply = supplyFields.refine(crucibleOnly, noCrucible).refine(cupelOnly, noCupel);
export const supplyChange = supplyFields
  .extend({ version })
  .refine(crucibleOnly, noCrucible)
  .refine(cupelOnly, noCupel);
export const newSupplyPrice = z.object({ effectiveOn: isoDate, price, currency });
/** Prices newest first. */
export const supply = supplyFields.extend({ id, version, prices: z.array(newSupplyPrice) });
export type Supply = z.infer<typeof supply>;

export const quotationUnits = ['ozt', 't', 'lb', 'kg', 'g'] as const;
export const quotation = z.object({
  metal: element,
  quotedOn: isoDate,
  price: decimal({ above: 0, max: 1_000_000_000 }),
  currency,
  unit: z.enum(quotationUnits),
  source: text(120).default(''),
});
export type Quotation = z.infer<typeof quotation>;
