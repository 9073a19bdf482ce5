import type { AdvisedAmount, AdviceWanted } from './advised-amount.ts';
import { adviceLotMassG, adviceSources, wholeG } from './advised-amount.ts';
import { elementFractions } from './minerals.ts';
import { nitreForButton, nitrePower, reducerPowers } from './nitre.ts';
import { oxygenBalance } from './oxygen-balance.ts';
import { molarMassOf } from './substances.ts';

/**
 * Nitre that brings the lead reduced to what is wanted, or flour where the lot reduces too little. With
 * litharge the wanted lead is the button; with metallic lead it is nothing, and nitre burns all sulfides.
 */
export function adviseOxidant({
  minerals,
  treatment,
  collector,
  buttonLeadG,
  sulfurRoastedFrac,
  measuredReducingPower = null,
}: AdviceWanted & { buttonLeadG: number; sulfurRoastedFrac: number }): {
  amounts: AdvisedAmount[];
  sulfidesOxidizedFrac: number;
  /** Soda that sulfate takes up beyond the potash of the nitre. */
  sulfateSodaG: number;
  /** Nitre whose potash goes to the slag, since there is more of it than sulfate. */
  nitreToSlagG: number;
} {
  const none = { amounts: [], sulfidesOxidizedFrac: sulfurRoastedFrac, sulfateSodaG: 0, nitreToSlagG: 0 };
  // metallic iron sees to iron oxides by itself
  if (treatment === 'iron' && collector === 'lead') return none;

  const bare = oxygenBalance({
    minerals,
    lotMassG: adviceLotMassG,
    reagents: {},
    sulfurRoastedFrac,
    measuredReducingPower,
  });
  const power = (bare.sulfidesG - bare.ironOxidesG) / adviceLotMassG;
  const wantedButtonG = collector === 'litharge' ? buttonLeadG : 0;
  const { nitreG, flourG } = nitreForButton({
    sampleMassG: adviceLotMassG,
    reducingPower: power,
    wantedButtonG,
  });
  const subject = treatment === 'roasted' ? 'The calcine of 100 g' : '100 g';
  const reduces = `${subject} ${power >= 0 ? 'reduces' : 'takes up'} about ${wholeG(Math.abs(power) * adviceLotMassG)} of lead`;

  if (flourG > 0) {
    const why = `${reduces}, and ${wholeG(wantedButtonG)} are to come of litharge: a gram of flour reduces ${reducerPowers.flour} g.`;
    return {
      ...none,
      sulfidesOxidizedFrac: treatment === 'oxidizing' ? 1 : sulfurRoastedFrac,
      amounts: [{ reagent: 'flour', gramsPerHundredG: flourG, why, source: adviceSources.beringer }],
    };
  }
  if (treatment !== 'oxidizing') return none;
  const sulfurG = adviceLotMassG * (elementFractions({ minerals }).S ?? 0);
  const sulfateMol = (sulfurG * bare.sulfateFrac) / molarMassOf('S');
  const potashMol = nitreG / molarMassOf('KNO3') / 2;
  return {
    amounts: [
      {
        reagent: 'nitre',
        gramsPerHundredG: nitreG,
        why:
          `${reduces}, and ${wholeG(wantedButtonG)} are to come of litharge: a gram of nitre holds back ${nitrePower.value} g, in practice ` +
          `${nitrePower.low} to ${nitrePower.high}. Try it on a small charge first.`,
        source: adviceSources.beringer,
      },
    ],
    sulfidesOxidizedFrac: 1,
    sulfateSodaG: Math.max(0, sulfateMol - potashMol) * molarMassOf('Na2CO3'),
    nitreToSlagG: Math.max(0, potashMol - sulfateMol) * 2 * molarMassOf('KNO3'),
  };
}
