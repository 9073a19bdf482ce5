import type { Finding } from '../finding.ts';
import { nitreOnLead } from './lead-oxidation.ts';
import { gramsPerGram } from './reaction.ts';

/** Lead that a gram of nitre keeps from being reduced, g, by 2 KNO3 + 5 Pb = K2O + N2 + 5 PbO: 5.12. */
export const theoreticalNitrePower = gramsPerGram({ reaction: nitreOnLead, of: 'Pb', per: 'KNO3' });

/** Working value and the range met with: C. and J. J. Beringer, A Text-book of Assaying, 9th ed. 1904. */
export const nitrePower = { value: 4, low: 3.2, high: 5.3 } as const;

/** Lead reduced by a gram of reducer, g: Beringer, op. cit. */
export const reducerPowers = { flour: 11.2, charcoal: 22.6 } as const;

/** Lead in a gram of litharge, g: 0.9283. */
export const leadFracOfLitharge = gramsPerGram({
  reaction: { takes: { PbO: 1 }, gives: { Pb: 1, O2: 0.5 } },
  of: 'Pb',
  per: 'PbO',
});

export interface NitreForButton {
  nitreG: number;
  /** Nitre at the high and the low oxidizing power. */
  nitreLowG: number;
  nitreHighG: number;
  /** Flour where the sample alone reduces too little; then there is no nitre. */
  flourG: number;
  /** Litharge that the wanted lead is reduced from; what the slag takes up comes on top. */
  lithargeForButtonG: number;
  findings: Finding[];
}

/** More nitre than this per gram of sample boils over easily; a sample that asks for it is better roasted. */
const mostNitrePerGramOfSample = 1;

/**
 * Nitre (or flour) that brings the lead reduced in a charge with litharge to the wanted button.
 *
 * nitre [g] = (reducing power × sample − wanted button) / oxidizing power of nitre. Where the sample reduces
 * less than is wanted: flour [g] = what is short / 11.2. 20 g of ore with reducing power 5.5, for a button of
 * 30 g, takes 20 g of nitre. Source: C. and J. J. Beringer, *A Text-book of Assaying*, 9th ed. 1904, where
 * buttons of 22.5 to 26 g came of that charge: treat the answer as a first trial. With metallic lead as
 * collector and no litharge nothing is reduced: the wanted button is then 0.
 *
 * @param reducingPower g of lead per g of sample, negative where the sample takes lead up
 * @param wantedButtonG lead to be reduced from litharge, g
 */
export function nitreForButton({
  sampleMassG,
  reducingPower,
  wantedButtonG,
  oxidizingPower = nitrePower.value,
}: {
  sampleMassG: number;
  reducingPower: number;
  wantedButtonG: number;
  oxidizingPower?: number;
}): NitreForButton {
  const surplusLeadG = reducingPower * sampleMassG - wantedButtonG;
  const nitreG = Math.max(0, surplusLeadG) / oxidizingPower;
  const flourG = Math.max(0, -surplusLeadG) / reducerPowers.flour;
  const findings: Finding[] = [];
  if (nitreG > mostNitrePerGramOfSample * sampleMassG) {
    findings.push({
      code: 'nitre-above-sample',
      level: 'warning',
      path: '/reducingPower',
      sentence:
        `${nitreG.toFixed(1)} g of nitre for ${sampleMassG} g of sample would boil hard and may run over: roast ` +
        `the sample first, in part or dead, or take less of it.`,
    });
  }
  return {
    nitreG,
    nitreLowG: Math.max(0, surplusLeadG) / nitrePower.high,
    nitreHighG: Math.max(0, surplusLeadG) / nitrePower.low,
    flourG,
    lithargeForButtonG: wantedButtonG / leadFracOfLitharge,
    findings,
  };
}
