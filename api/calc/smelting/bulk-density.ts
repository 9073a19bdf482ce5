import type { Range } from './range.ts';
import type { Reagent } from './reagents.ts';

/**
 * Loose bulk densities, g/mL: common practice, from published tables for bulk handling where they agree
 * (borax 0.85, bicarbonate 0.69, flour 0.59, charcoal 0.21). Grain and packing change them: fill a litre jug
 * with your own and weigh it. Soda ash is sold light (0.5) and dense (1.0); lead is shot or sheet, iron is rods or
 * nails, each with the voids between them.
 */
export const bulkDensitiesGpml: Readonly<Record<Reagent, Range>> = {
  borax: { low: 0.75, value: 0.85, high: 0.95 },
  'anhydrous borax': { low: 0.9, value: 1.1, high: 1.3 },
  'soda ash': { low: 0.5, value: 0.75, high: 1.1 },
  'sodium bicarbonate': { low: 0.65, value: 0.8, high: 1.0 },
  silica: { low: 1.1, value: 1.4, high: 1.6 },
  lime: { low: 0.7, value: 0.9, high: 1.1 },
  limestone: { low: 1.0, value: 1.3, high: 1.5 },
  fluorspar: { low: 1.4, value: 1.6, high: 1.9 },
  nitre: { low: 1.0, value: 1.2, high: 1.3 },
  flour: { low: 0.5, value: 0.59, high: 0.65 },
  charcoal: { low: 0.15, value: 0.21, high: 0.35 },
  litharge: { low: 2.5, value: 3.5, high: 5.0 },
  lead: { low: 5.0, value: 6.8, high: 11.3 },
  iron: { low: 3.0, value: 5.0, high: 7.8 },
};

/** Voids in a loose, dry concentrate: about half of its bulk, common practice. */
export const concentrateVoidFrac: Range = { low: 0.4, value: 0.5, high: 0.6 };
