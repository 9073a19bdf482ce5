import type { ForecastBasis } from '../books/batch-result.ts';
import type { Metal } from '../evidence/lot-evidence.ts';
import type { LotDecision } from './decide-lot.ts';

/**
 * What a forecast took of each metal on average: the lot's grade, the treatment's recovery with the owner's shift
 * (of a sale, all of it), and the price. Null where nothing spoke of the metal.
 */
export function forecastBasis(
  { evidence, prices }: Pick<LotDecision, 'evidence' | 'prices'>,
  treatmentId: string | null,
  goldRecoveryShiftFrac: number,
): ForecastBasis {
  const of = (metal: Metal): ForecastBasis[Metal] => {
    const { gradeGpt, recoveries } = evidence.inference.summary[metal];
    const recovery = recoveries.find((one) => one.treatmentId === treatmentId)?.posterior;
    if (gradeGpt === null || (treatmentId !== null && recovery === undefined)) return null;
    const shift = metal === 'Au' && treatmentId !== null ? goldRecoveryShiftFrac : 0;
    return {
      gradeGpt: gradeGpt.mean,
      recoveryFrac: Math.min(1, Math.max(0, (recovery?.mean ?? 1) + shift)),
      recoverySdFrac: recovery?.sd ?? 0,
      pricePerOzt: prices[metal].spot,
    };
  };
  return { Au: of('Au'), Ag: of('Ag') };
}
