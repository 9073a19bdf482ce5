import type { AdvisedAmount } from './advised-amount.ts';
import { adviceSources, wholeG } from './advised-amount.ts';
import { reagentToReachDegree, silicateAim, silicateDegree } from './slag.ts';
import type { SlagPart } from './slag-oxides.ts';
import { molarMassOf } from './substances.ts';

/** Soda and borax that any charge gets, so that a slag covers the metal: common practice, per 100 g. */
const cover = { sodaAshG: 30, anhydrousBoraxG: 10 } as const;

const sodaPerQuartz = molarMassOf('Na2CO3') / molarMassOf('SiO2');
const disilicateG = molarMassOf('Na2O') + molarMassOf('SiO2');

/**
 * Soda ash, borax glass and silica for the oxides that 100 g of lot bring to the slag.
 *
 * Half of the metal oxides goes to borax glass, which dissolves its own weight of FeO; the other half to a
 * silicate of soda, which takes up half its weight (both Beringer 1904). Quartz takes soda to a bisilicate.
 * `extraSodaG` holds sulfate and makes no slag; nitre that finds no sulfate brings potash. Silica or more soda then brings the whole to the aim.
 */
export function adviseFlux({
  lotParts,
  extraSodaG,
  nitreToSlagG,
  aimDegree,
}: {
  lotParts: readonly SlagPart[];
  extraSodaG: number;
  nitreToSlagG: number;
  aimDegree: number;
}): AdvisedAmount[] {
  const quartzG = lotParts.find((part) => part.material === 'SiO2')?.massG ?? 0;
  const oxidesG = lotParts.reduce((sum, part) => sum + part.massG, 0) - quartzG;
  const boraxG = Math.max(cover.anhydrousBoraxG, oxidesG / 2);
  const sodaForOxidesG = (oxidesG * molarMassOf('Na2CO3')) / disilicateG;
  const silicaForOxidesG = (oxidesG * molarMassOf('SiO2')) / disilicateG;
  const sodaForSlagG = Math.max(cover.sodaAshG, sodaForOxidesG + quartzG * sodaPerQuartz);

  const before: SlagPart[] = [
    ...lotParts,
    { material: 'anhydrous borax', massG: boraxG },
    { material: 'soda ash', massG: sodaForSlagG },
    { material: 'silica', massG: silicaForOxidesG },
    { material: 'nitre', massG: nitreToSlagG },
  ];
  const moreSilicaG = reagentToReachDegree({ parts: before, aimDegree, reagent: 'silica' }) ?? 0;
  const moreSodaG = reagentToReachDegree({ parts: before, aimDegree, reagent: 'soda ash' }) ?? 0;
  const degreeBefore = silicateDegree(before)?.toFixed(2) ?? 'none';
  const toAim = `the whole would be at a silicate degree of ${degreeBefore}, and ${aimDegree} is the aim`;

  return [
    {
      reagent: 'soda ash',
      gramsPerHundredG: sodaForSlagG + moreSodaG + extraSodaG,
      why:
        `${wholeG(sodaForSlagG)} for ${wholeG(quartzG)} of quartz (to a bisilicate)` +
        (oxidesG < 0.5 ? ', ' : ` and half of ${wholeG(oxidesG)} of metal oxides, `) +
        `at least ${cover.sodaAshG} g to cover the metal` +
        (moreSodaG > 0.5 ? `; ${wholeG(moreSodaG)} more because ${toAim}` : '') +
        (extraSodaG > 0.5 ? `; ${wholeG(extraSodaG)} to hold the sulfur that burns to sulfate` : '') +
        '.',
      source: adviceSources.beringer,
    },
    {
      reagent: 'anhydrous borax',
      gramsPerHundredG: boraxG,
      why:
        `Fused borax dissolves about its own weight of iron oxide: ` +
        (oxidesG < 0.5
          ? `there is none to take up, so the least that covers the metal is enough, ${cover.anhydrousBoraxG} g.`
          : `it takes the other half of ${wholeG(oxidesG)}, at least ${cover.anhydrousBoraxG} g.`),
      source: adviceSources.beringer,
    },
    {
      reagent: 'silica',
      gramsPerHundredG: silicaForOxidesG + moreSilicaG,
      why:
        `${wholeG(silicaForOxidesG)} make the silicate of soda that takes up metal oxides` +
        (moreSilicaG > 0.5 ? `; ${wholeG(moreSilicaG)} more because ${toAim}` : '') +
        '.',
      source: `${adviceSources.beringer}; aim between ${silicateAim.low} and ${silicateAim.high}: ${adviceSources.fulton}`,
    },
  ];
}
