import type { Metal } from '../evidence/lot-evidence.ts';
import { METALS } from '../evidence/lot-evidence.ts';
import type { UncertainNumber } from '../random.ts';
import { expectedNetCost } from './cost-draws.ts';
import type { DecideInput, DecisionOption, InHouseOption } from './options.ts';
import type { SharedDraws } from './shared-draws.ts';
import { simulate } from './simulate.ts';

/**
 * Of the metal that a smelt does not bring into the button, the share that lies in its matte, and of that the share
 * which smelting the matte again wins. Matte carries gold and above all silver, but between matte and lead no
 * published figure is known, so that the share is left wide open until the matte is assayed. From memory.
 */
const LOST_IN_MATTE_FRAC: UncertainNumber = { low: 0, mode: 0.5, high: 1 };
const WON_FROM_MATTE_FRAC: UncertainNumber = { low: 0.5, mode: 0.8, high: 0.95 };

/** The matte that a treatment of the lot gives, under the option it would be worked up with. */
export interface Matte {
  option: InHouseOption;
  /** Matte for each kilogram of dry concentrate, from the test smelts. */
  kgPerKg: number;
}

export interface MatteDraws {
  /** What the matte holds, g/t of matte: metal of the lot not recovered × the share of it in the matte ÷ matte fall. */
  gradeGpt: Record<Metal, Float64Array>;
  /** Net value of the treatment with its matte smelted again by the same treatment. */
  netValue: Float64Array;
}

/**
 * A treatment with its matte smelted again, on the draws of the decision:
 *
 * recovery = R + (1 − R) × share lost in matte × share won from it;
 * cost = what the same treatment costs for the mass of the matte, in whole charges.
 *
 * The lead, fuel and labour of the first smelt, and the lot's grade and prices, are the same draws as without.
 */
export function drawMatte(input: DecideInput, { option, kgPerKg }: Matte, shared: SharedDraws): MatteDraws {
  const { draws, lotDryMassKg } = input;
  const { treatmentId } = option;
  const recovery = draws.recoveryFrac[treatmentId]!;
  const stream = (metal: Metal, what: string) => `matte/${treatmentId}/${metal}/${what}`;
  const gradeGpt: Partial<Record<Metal, Float64Array>> = {};
  const better: Partial<Record<Metal, Float64Array>> = {};
  for (const metal of METALS) {
    const inMatte = shared.amount(LOST_IN_MATTE_FRAC, stream(metal, 'lost'));
    const won = shared.amount(WON_FROM_MATTE_FRAC, stream(metal, 'won'));
    const [grade, recovered] = [draws.gradeGpt[metal], recovery[metal]];
    gradeGpt[metal] = grade.map((gpt, n) => (gpt * (1 - recovered[n]!) * inMatte[n]!) / kgPerKg);
    better[metal] = recovered.map((frac, n) => frac + (1 - frac) * inMatte[n]! * won[n]!);
  }
  const matteInput: DecideInput = { ...input, lotDryMassKg: lotDryMassKg * kgPerKg };
  const amount = expectedNetCost(matteInput, { ...option, fixedCosts: [] }, shared);
  const again: DecisionOption = {
    ...option,
    id: `${option.id}/matte`,
    fixedCosts: [...option.fixedCosts, { label: 'Smelting the matte again', amount }],
  };
  const recoveryFrac = { ...draws.recoveryFrac, [treatmentId]: better as Record<Metal, Float64Array> };
  const [drawn] = simulate({ ...input, draws: { ...draws, recoveryFrac } }, [again], shared);
  return { gradeGpt: gradeGpt as Record<Metal, Float64Array>, netValue: drawn!.netValue };
}
