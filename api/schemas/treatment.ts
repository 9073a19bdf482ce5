import { z } from 'zod';
import { decimal, id, name, number, text, version } from './fields.ts';

const recoveryMean = number({ above: 0, below: 1 });
const recoverySd = number({ above: 0, max: 0.5 });

const treatmentFields = z.object({
  name: name(),
  description: text(1000).default(''),
  roast: z.boolean(),
  /** Grams of each supply per 100 g of concentrate as received; collector lead and iron are in it too. */
  recipe: z
    .array(z.object({ supplyId: id, gramsPerHundredG: decimal({ above: 0, max: 10_000 }) }))
    .max(40)
    .refine(
      (recipe) => new Set(recipe.map((one) => one.supplyId)).size === recipe.length,
      'must name each supply once',
    ),
  chargeSizeKg: number({ above: 0, max: 10_000 }),
  roastHoursPerCharge: number({ min: 0, max: 200 }),
  furnaceHoursPerCharge: number({ min: 0, max: 200 }),
  labourHoursPerCharge: number({ min: 0, max: 200 }),
  labourSupplyId: id.nullable(),
  fuelSupplyId: id.nullable(),
  fuelPerCharge: number({ min: 0, max: 100_000 }),
  crucibleSupplyId: id.nullable(),
  crucibleLifeCharges: number({ above: 0, max: 10_000 }),
  cupelSupplyId: id.nullable().default(null),
  /** Concentrate that is roasted in one pan, dry; null: a charge a pan. */
  roastPanKg: number({ above: 0, max: 10_000 }).nullable().default(null),
  leadReturnLowFrac: number({ min: 0, max: 1 }),
  leadReturnModeFrac: number({ min: 0, max: 1 }),
  leadReturnHighFrac: number({ min: 0, max: 1 }),
  goldRecoveryMeanFrac: recoveryMean,
  goldRecoverySdFrac: recoverySd,
  silverRecoveryMeanFrac: recoveryMean,
  silverRecoverySdFrac: recoverySd,
  /** Gold and silver together in the bar that it gives. */
  doreFinenessFrac: number({ above: 0, max: 1 }),
  wasteCostPerKg: decimal({ min: 0, max: 10_000 }),
  daysUntilBar: z.int().min(0).max(3650),
  retired: z.boolean().default(false),
});

type Ordered = { leadReturnLowFrac: number; leadReturnModeFrac: number; leadReturnHighFrac: number };
const inOrder = (treatment: Ordered) =>
  treatment.leadReturnLowFrac <= treatment.leadReturnModeFrac &&
  treatment.leadReturnModeFrac <= treatment.leadReturnHighFrac;
const order = { path: ['leadReturnModeFrac'], error: 'must lie between the low and the high lead return' };

type Fuelled = { fuelPerCharge: number; furnaceHoursPerCharge: number };
const burnsInHours = (treatment: Fuelled) =>
  treatment.fuelPerCharge === 0 || treatment.furnaceHoursPerCharge > 0;
const hours = { path: ['furnaceHoursPerCharge'], error: 'must be above 0 when fuel is burnt' };

export const newTreatment = treatmentFields.refine(inOrder, order).refine(burnsInHours, hours);
export const treatmentChange = treatmentFields
  .extend({ version })
  .refine(inOrder, order)
  .refine(burnsInHours, hours);
export const treatment = treatmentFields.extend({ id, version });
export type Treatment = z.infer<typeof treatment>;
