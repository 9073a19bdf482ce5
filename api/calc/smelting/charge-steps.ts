import { fahrenheitFromCelsius } from '../units.ts';
import type { ChargeSheetInput } from './charge-sheet-input.ts';
import { meltingPointsC } from './melting.ts';
import type { ReagentMasses } from './oxygen-balance.ts';
import { dullRoastC, dullRoastF } from './roast.ts';

/**
 * The work of a batch in its order, for the sheet: drying, roast, mixing, melt, pour, cupelling, weighing.
 * Only the steps that this treatment has. Heats and signs are common practice.
 */
export function chargeSteps({
  input,
  chargeCount,
  calcineKgPerCharge,
  reagents,
}: {
  input: ChargeSheetInput;
  chargeCount: number;
  calcineKgPerCharge: number | null;
  reagents: ReagentMasses;
}): string[] {
  const { treatment } = input;
  const has = (massG: number | undefined) => (massG ?? 0) > 0;
  const iron = has(reagents.iron);
  const arsenical = input.minerals.some((share) => share.mineral === 'arsenopyrite' && share.massFrac > 0);
  const steps: (string | false)[] = [
    treatment.roast &&
      arsenical &&
      'Stop: the lot holds arsenopyrite. Do not begin the roast unless it is under professional control.',
    `Dry the concentrate until two weighings agree, and weigh out ${chargeCount} ` +
      `${chargeCount === 1 ? 'charge' : 'charges'}, each in its own marked pan.`,
    treatment.roast && roastStep(treatment.roastHoursPerCharge, calcineKgPerCharge),
    treatment.roast && 'Let the calcine cool, weigh it, and write the mass beside the mass before the roast.',
    `Weigh out the reagents and mix them with the ${treatment.roast ? 'calcine' : 'concentrate'} until no streaks show.`,
    has(reagents.nitre) &&
      'Mix the nitre in last, only the mass on this sheet, and heat slowly at first: the charge foams.',
    'Warm the crucible until dry, then fill it to two thirds at most; keep the rest to feed in as the charge sinks.',
    has(reagents.lead) &&
      'Put the lead on the bottom, and cover the charge with the last of the borax and soda.',
    iron && 'Weigh the iron and stand it in the charge, so that it can be drawn out hot.',
    `Melt, about ${treatment.furnaceHoursPerCharge} h a charge, until the melt lies quiet and clear.`,
    iron &&
      'Draw the iron out, rinse it in the slag and knock adhering lead back; weigh what is left of it cold.',
    `Pour into a dry, preheated cone mould, and let it freeze; knock it out well below ${meltingPointsC.lead} °C (${Math.round(fahrenheitFromCelsius(meltingPointsC.lead))} °F).`,
    'Part button, matte, speiss and slag; weigh each, and bag matte and speiss with the batch on the bag.',
    'Hammer the button clean and cupel it under extraction; weigh the bead when it is cold.',
    'Write down lead back, crucible state, fuel and hours before the next charge.',
  ];
  return steps.filter((step) => step !== false);
}

function roastStep(hours: number, calcineKg: number | null): string {
  const back =
    calcineKg === null ? '' : ` A charge roasted dead comes back as about ${calcineKg.toFixed(2)} kg.`;
  return (
    `Roast thin in an open pan at ${dullRoastC.low} to ${dullRoastC.high} °C (${dullRoastF.low} to ${dullRoastF.high} °F), below visible glow, raking often, about ` +
    `${hours} h, until it no longer smokes.${back}`
  );
}
