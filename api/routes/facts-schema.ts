import { z } from '@hono/zod-openapi';
import type { DecisionFacts } from '../calc/facts/records.ts';

/** The facts as the calculation reads them; their shape is api/calc/facts/records.ts. */
export const decisionFactsSchema = z
  .custom<DecisionFacts>((value) => typeof value === 'object' && value !== null)
  .openapi({
    type: 'object',
    description: 'Lot, trials, balances, supplies, treatments, terms and quotations',
  });
