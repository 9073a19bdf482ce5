import { z } from 'zod';
import { number } from './fields.ts';

/** What the owner changes on the page to see the answer follow; null keeps what the records say. */
export const assumptions = z.object({
  goldPricePerOzt: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  silverPricePerOzt: number({ above: 0, max: 10_000_000 }).nullable().default(null),
  annualVolatilityGoldFrac: number({ min: 0, max: 5 }).nullable().default(null),
  annualVolatilitySilverFrac: number({ min: 0, max: 5 }).nullable().default(null),
  wagePerHour: number({ min: 0, max: 100_000 }).nullable().default(null),
  leadPricePerKg: number({ min: 0, max: 100_000 }).nullable().default(null),
  fuelPriceFactor: number({ min: 0, max: 100 }).default(1),
  reagentPriceFactor: number({ min: 0, max: 100 }).default(1),
  goldRecoveryShiftFrac: number({ min: -0.9, max: 0.9 }).default(0),
  saleFreightAndAssays: number({ min: 0, max: 10_000_000 }).default(0),
  drawCount: z.int().min(500).max(200_000).default(20_000),
  seed: z.int().min(0).max(2_147_483_647).default(20_261),
});
