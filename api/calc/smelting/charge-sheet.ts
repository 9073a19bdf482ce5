import type { Finding } from '../finding.ts';
import type { DecimalNumber } from '../money.ts';
import { Dec, sumOf } from '../money.ts';
import type { Caution } from './cautions.ts';
import { cautionsFor } from './cautions.ts';
import { inputBlockers, sheetFindings } from './charge-findings.ts';
import type { ChargeGroup, WeighedOut } from './charge-masses.ts';
import { roundingStatement, roundingToStep, splitIntoCharges, weighOut } from './charge-masses.ts';
import type { ChargeSheetInput } from './charge-sheet-input.ts';
import { reagentMasses, reagentOfLine } from './charge-sheet-input.ts';
import { chargeSteps } from './charge-steps.ts';
import { leadFracOfLitharge } from './nitre.ts';
import { isSulfide } from './oxygen-balance.ts';
import type { RecipeWork } from './recipe-work.ts';
import { workRecipe } from './recipe-work.ts';
import { roastChange } from './roast.ts';

/** Masses as decimal text: per charge in grams, in all in kilograms. */
export interface SheetLine {
  /** Null for the concentrate. */
  supplyId: string | null;
  name: string;
  /** For each size of charge, in the order of `charges`. */
  massG: string[];
  totalKg: string;
}

/** Estimates by the minerals, for a dead roast; null where none are named. */
export interface RoastOnSheet {
  panLoads: number;
  hours: string;
  /** Of the largest charge. */
  calcineKgPerCharge: number | null;
  /** Of the whole batch. */
  sulfurDioxideKg: number | null;
  arsenicTrioxideKg: number | null;
}

export interface ChargeSheet {
  /** Sizes of charge: full ones, then the last smaller one. */
  charges: { count: number; concentrateG: string }[];
  chargeCount: number;
  lines: SheetLine[];
  /** How the masses were rounded, for the foot of the sheet. */
  rounding: string;
  /** Lead charged, in metal and litharge, and what should come back by the treatment's lead return. */
  lead: { inKg: string; backKg: { low: number; mode: number; high: number } };
  ironKg: string;
  crucibles: { name: string; count: number; lifeCharges: number } | null;
  cupels: { name: string; count: number } | null;
  fuel: { name: string; unit: string; total: string } | null;
  roast: RoastOnSheet | null;
  /** Given off from the crucibles by the whole batch, at most, beside what the roast gives off; null where no minerals are named. */
  meltSulfurDioxideKg: number | null;
  furnaceHours: string;
  labourHours: string;
  steps: string[];
  cautions: Caution[];
  /** What the recipe will do to the largest charge; null where no minerals are named. */
  work: RecipeWork | null;
}

const kgText = (massG: DecimalNumber, decimalsG: number) => massG.div(1000).toFixed(decimalsG + 3);

function sheetLines(
  input: ChargeSheetInput,
  groups: readonly ChargeGroup[],
  weighed: readonly WeighedOut[],
): SheetLine[] {
  const { decimals } = roundingToStep(input.weighingStepG);
  const concentrate: SheetLine = {
    supplyId: null,
    name: 'Concentrate, dry, as received',
    massG: groups.map((group) => group.concentrateG.toFixed()),
    totalKg: new Dec(input.dryMassKg).toFixed(),
  };
  const supplies = weighed.map((masses, index): SheetLine => ({
    supplyId: input.treatment.recipe[index]?.supplyId ?? null,
    name: input.treatment.recipe[index]?.name ?? '',
    massG: masses.massG.map((mass) => mass.toFixed(decimals)),
    totalKg: kgText(masses.totalG, decimals),
  }));
  return [concentrate, ...supplies];
}

/** Grams of lead that a line of the recipe brings per gram of it. */
const leadFracOf = { lead: 1, litharge: leadFracOfLitharge } as const;

/** Lead in one charge of each size, as metal and in litharge, g. */
function leadPerCharge(
  { treatment }: ChargeSheetInput,
  groups: readonly ChargeGroup[],
  weighed: readonly WeighedOut[],
): DecimalNumber[] {
  return groups.map((_, group) =>
    sumOf(
      treatment.recipe.map((line, index) => {
        const reagent = reagentOfLine(line);
        const leadFrac = reagent === 'lead' || reagent === 'litharge' ? leadFracOf[reagent] : 0;
        return (weighed[index]?.massG[group] ?? new Dec(0)).times(leadFrac);
      }),
    ),
  );
}

/** Sum over all charges of something per charge of each size. */
const overAll = (groups: readonly ChargeGroup[], perCharge: readonly DecimalNumber[]): DecimalNumber =>
  sumOf(perCharge.map((value, index) => value.times(groups[index]?.count ?? 0)));

/** Whole pieces that take a quantity, summed over all charges. */
const piecesFor = (
  groups: readonly ChargeGroup[],
  perCharge: readonly DecimalNumber[],
  each: number,
): number =>
  overAll(
    groups,
    perCharge.map((value) => value.div(each).ceil()),
  ).toNumber();

function cautionsOf({ treatment, minerals }: ChargeSheetInput): Caution[] {
  const reagents = new Set(treatment.recipe.map(reagentOfLine));
  return cautionsFor({
    roast: treatment.roast,
    arsenopyrite: minerals.some((share) => share.mineral === 'arsenopyrite' && share.massFrac > 0),
    sulfidesInMelt: !treatment.roast && minerals.some((share) => isSulfide(share) && share.massFrac > 0),
    nitre: reagents.has('nitre'),
    reducers: reagents.has('flour') || reagents.has('charcoal'),
    lead: true,
    nitricAcid: false,
    mercury: false,
    fluorspar: reagents.has('fluorspar'),
  });
}

/**
 * Works out a charge sheet for a batch: charges, what to weigh out for each and in all, lead, iron, crucibles,
 * cupels, fuel, roast, hours, steps and cautions. The last smaller charge takes crucible, fuel and hours as a
 * full one does. Charges × mass + last charge is the total exactly, in decimals. The cautions always speak of
 * lead. Inputs without which there is no sheet (mass, charge size, a text that is no number): null and blockers.
 */
export function chargeSheet(input: ChargeSheetInput): { sheet: ChargeSheet | null; findings: Finding[] } {
  const blocked = inputBlockers(input);
  if (blocked.length > 0) return { sheet: null, findings: blocked };

  const { treatment, minerals } = input;
  const rounding = roundingToStep(input.weighingStepG);
  const groups = splitIntoCharges({ dryMassKg: input.dryMassKg, chargeSizeKg: treatment.chargeSizeKg });
  const chargeCount = groups.reduce((sum, group) => sum + group.count, 0);
  const weighed = treatment.recipe.map(({ gramsPerHundredG }) =>
    weighOut({ groups, gramsPerHundredG, rounding }),
  );
  const leadG = leadPerCharge(input, groups, weighed);
  const leadInG = overAll(groups, leadG);
  const leadBackKg = (returnFrac: number) => leadInG.times(returnFrac).div(1000).toNumber();
  const buttonsG = leadG.map((mass) => mass.times(treatment.leadReturnHighFrac));
  const ironG = sumOf(
    weighed.flatMap((masses, index) => {
      const line = treatment.recipe[index];
      return line !== undefined && reagentOfLine(line) === 'iron' ? [masses.totalG] : [];
    }),
  );
  const perChargeTotal = (quantity: number) => new Dec(quantity).times(chargeCount).toFixed();

  const largestG = groups[0]?.concentrateG.toNumber() ?? 0;
  const reagents = reagentMasses(treatment.recipe, largestG);
  const known = minerals.length > 0;
  const change = treatment.roast && known ? roastChange({ minerals }) : null;
  const calcineKgPerCharge = change && (largestG / 1000) * (1 + change.massChangeFrac);
  const work = known
    ? workRecipe({
        minerals,
        lotMassG: largestG,
        reagents,
        sulfurRoastedFrac: treatment.roast ? 1 : 0,
        crucibleVolumeMl: input.crucible?.volumeMl ?? null,
      })
    : null;

  const sheet: ChargeSheet = {
    charges: groups.map(({ count, concentrateG }) => ({ count, concentrateG: concentrateG.toFixed() })),
    chargeCount,
    lines: sheetLines(input, groups, weighed),
    rounding: roundingStatement(input.weighingStepG),
    lead: {
      inKg: kgText(leadInG, rounding.decimals),
      backKg: {
        low: leadBackKg(treatment.leadReturnLowFrac),
        mode: leadBackKg(treatment.leadReturnModeFrac),
        high: leadBackKg(treatment.leadReturnHighFrac),
      },
    },
    ironKg: kgText(ironG, rounding.decimals),
    crucibles: input.crucible && {
      name: input.crucible.name,
      count: Math.ceil(chargeCount / treatment.crucibleLifeCharges),
      lifeCharges: treatment.crucibleLifeCharges,
    },
    cupels: input.cupel && {
      name: input.cupel.name,
      count: piecesFor(groups, buttonsG, input.cupel.leadCapacityG),
    },
    fuel: input.fuel && { ...input.fuel, total: perChargeTotal(treatment.fuelPerCharge) },
    roast: treatment.roast
      ? {
          panLoads:
            input.roastPanKg === null
              ? chargeCount
              : piecesFor(
                  groups,
                  groups.map((group) => group.concentrateG),
                  input.roastPanKg * 1000,
                ),
          hours: perChargeTotal(treatment.roastHoursPerCharge),
          calcineKgPerCharge,
          sulfurDioxideKg: change && Number(input.dryMassKg) * change.so2Frac,
          arsenicTrioxideKg: change && Number(input.dryMassKg) * change.arsenicTrioxideFrac,
        }
      : null,
    meltSulfurDioxideKg: work && (Number(input.dryMassKg) * work.sulfurDioxideG) / largestG,
    furnaceHours: perChargeTotal(treatment.furnaceHoursPerCharge),
    labourHours: perChargeTotal(treatment.labourHoursPerCharge),
    steps: chargeSteps({ input, chargeCount, calcineKgPerCharge, reagents }),
    cautions: cautionsOf(input),
    work,
  };
  return { sheet, findings: sheetFindings({ input, groups, weighed, work }) };
}
