import type { Finding } from '../finding.ts';
import { Dec, isDecimalText, sumOf } from '../money.ts';
import { arsenicInRoast } from './arsenic-in-roast.ts';
import type { ChargeGroup, WeighedOut } from './charge-masses.ts';
import type { ChargeSheetInput } from './charge-sheet-input.ts';
import { reagentOfLine } from './charge-sheet-input.ts';
import { heatToMeltMj } from './melting.ts';
import { propaneHeatMj } from './propane.ts';
import type { RecipeWork } from './recipe-work.ts';

const isPositiveText = (text: string) => isDecimalText(text) && new Dec(text).gt(0);
const isPositive = (value: number) => Number.isFinite(value) && value > 0;

/** Inputs without which there is no charge sheet. */
export function inputBlockers(input: ChargeSheetInput): Finding[] {
  const { treatment } = input;
  const wrong: [boolean, string, string][] = [
    [!isPositiveText(input.dryMassKg), '/dryMassKg', `The dry mass "${input.dryMassKg}" must be above 0 kg.`],
    [
      !isPositiveText(input.weighingStepG),
      '/weighingStepG',
      `The weighing step "${input.weighingStepG}" must be above 0 g, such as 1.`,
    ],
    [
      !isPositive(treatment.chargeSizeKg),
      '/treatment/chargeSizeKg',
      `The charge size ${treatment.chargeSizeKg} kg must be above 0.`,
    ],
    [
      !isPositive(treatment.crucibleLifeCharges),
      '/treatment/crucibleLifeCharges',
      `A crucible's life of ${treatment.crucibleLifeCharges} charges must be above 0.`,
    ],
    [
      input.cupel !== null && !isPositive(input.cupel.leadCapacityG),
      '/cupel/leadCapacityG',
      'The lead that a cupel can take up must be above 0 g.',
    ],
    [
      input.roastPanKg !== null && !isPositive(input.roastPanKg),
      '/roastPanKg',
      'The concentrate in a roast pan must be above 0 kg.',
    ],
    ...treatment.recipe.map((line, index): [boolean, string, string] => [
      !isPositiveText(line.gramsPerHundredG),
      `/treatment/recipe/${index}/gramsPerHundredG`,
      `${line.name}: "${line.gramsPerHundredG}" must be grams per 100 g of concentrate, above 0.`,
    ]),
  ];
  return wrong
    .filter(([isWrong]) => isWrong)
    .map(([, path, sentence]) => ({ code: 'charge-sheet-input', level: 'blocker', path, sentence }));
}

/** A last charge below this share of a full one is a poor use of a crucible. */
const smallLastChargeFrac = 0.25;
/** Rounding that moves a line by more than this from the recipe is said. */
const coarseRoundingFrac = 0.01;

export function sheetFindings({
  input,
  groups,
  weighed,
  work,
}: {
  input: ChargeSheetInput;
  groups: readonly ChargeGroup[];
  weighed: readonly WeighedOut[];
  work: RecipeWork | null;
}): Finding[] {
  return [
    ...(input.treatment.roast ? arsenicInRoast(input.minerals) : []),
    ...workFindings(groups, work),
    ...lastCharge(input, groups),
    ...roundingFindings(input, weighed),
    ...fuelFindings(input, groups, weighed),
    ...missingFindings(input, work),
  ];
}

/** Less fuel than the charge itself takes up as heat is a slip. */
function fuelFindings(
  { fuel, treatment }: ChargeSheetInput,
  groups: readonly ChargeGroup[],
  weighed: readonly WeighedOut[],
): Finding[] {
  if (fuel === null) return [];
  const { fuelPerCharge } = treatment;
  const heatMj = propaneHeatMj({ fuelName: fuel.name, unit: fuel.unit, quantity: fuelPerCharge });
  const massKg = (isLead: boolean) =>
    sumOf(
      treatment.recipe.map((line, index) =>
        (reagentOfLine(line) === 'lead') === isLead ? (weighed[index]?.massG[0] ?? '0') : '0',
      ),
    ).toNumber() / 1000;
  const concentrateKg = (groups[0]?.concentrateG.toNumber() ?? 0) / 1000;
  const neededMj = heatToMeltMj({ leadKg: massKg(true), otherKg: concentrateKg + massKg(false) });
  if (heatMj === null || heatMj >= neededMj) return [];
  const sentence =
    `${fuelPerCharge} ${fuel.unit} of ${fuel.name} for a charge gives ${heatMj.toFixed(0)} MJ, less than the ` +
    `${neededMj.toFixed(0)} MJ that the charge itself takes up; a furnace needs five to twenty times that.`;
  return [{ code: 'fuel-below-need', level: 'warning', path: '/treatment/fuelPerCharge', sentence }];
}

function workFindings(groups: readonly ChargeGroup[], work: RecipeWork | null): Finding[] {
  const largestKg = groups[0]?.concentrateG.div(1000).toFixed() ?? '0';
  const paths: Record<string, string> = {
    '/minerals': '/minerals',
    '/crucibleVolumeMl': '/crucible/volumeMl',
  };
  return (work?.findings ?? []).map((finding) => ({
    ...finding,
    path: paths[finding.path] ?? '/treatment/recipe',
    sentence: `In a charge of ${largestKg} kg: ${finding.sentence}`,
  }));
}

function lastCharge({ treatment }: ChargeSheetInput, groups: readonly ChargeGroup[]): Finding[] {
  const [full, last] = groups;
  if (full === undefined || last === undefined) return [];
  if (last.concentrateG.gte(full.concentrateG.times(smallLastChargeFrac))) return [];
  const charges = full.count + 1;
  const even = sumOf([full.concentrateG.times(full.count), last.concentrateG])
    .div(charges)
    .div(1000);
  const sentence =
    `The last charge has only ${last.concentrateG.div(1000).toFixed()} kg of the ${treatment.chargeSizeKg} kg that a ` +
    `charge takes: ${charges} charges of ${even.toFixed(3)} kg each would be even.`;
  return [{ code: 'last-charge-small', level: 'note', path: '/treatment/chargeSizeKg', sentence }];
}

function roundingFindings(input: ChargeSheetInput, weighed: readonly WeighedOut[]): Finding[] {
  return input.treatment.recipe.flatMap((line, index): Finding[] => {
    const masses = weighed[index];
    if (masses === undefined) return [];
    const offFrac = masses.totalG.minus(masses.byRecipeG).div(masses.byRecipeG).abs();
    const nothing = masses.massG.some((mass) => mass.isZero());
    if (!nothing && offFrac.lte(coarseRoundingFrac)) return [];
    const what = nothing
      ? 'rounds to nothing in a charge'
      : `comes out ${offFrac.times(100).toFixed(1)} % off`;
    return [
      {
        code: 'rounding-coarse',
        level: 'warning',
        path: '/weighingStepG',
        sentence: `${line.name} ${what} at a step of ${input.weighingStepG} g: weigh it on a finer scale.`,
      },
    ];
  });
}

function missingFindings(input: ChargeSheetInput, work: RecipeWork | null): Finding[] {
  const { recipe, fuelPerCharge } = input.treatment;
  const unknown = recipe.filter((line) => line.kind === 'reagent' && reagentOfLine(line) === null);
  const note = (missing: boolean, code: string, path: string, sentence: string): Finding[] =>
    missing ? [{ code, level: 'note', path, sentence }] : [];
  return [
    ...note(
      work === null,
      'minerals-missing',
      '/minerals',
      'No minerals are named for the lot: slag, matte, crucible volume and arsenic could not be looked at.',
    ),
    ...note(
      unknown.length > 0,
      'reagent-unknown',
      '/treatment/recipe',
      `${unknown.map((line) => line.name).join(', ')}: not a reagent known by that name, so it is weighed out but ` +
        `left out of slag, volume and cautions.`,
    ),
    ...note(input.crucible === null, 'crucible-missing', '/crucible', 'The treatment names no crucible.'),
    ...note(
      input.cupel === null,
      'cupel-missing',
      '/cupel',
      'No cupel is given, so cupels are not counted: give the lead that one can take up.',
    ),
    ...note(
      input.fuel === null && fuelPerCharge > 0,
      'fuel-missing',
      '/fuel',
      `${fuelPerCharge} of fuel are used for each charge, but the treatment names no fuel.`,
    ),
    ...(work === null && !recipe.some((line) => line.kind === 'lead' || line.kind === 'litharge')
      ? [
          {
            code: 'collector-missing',
            level: 'warning' as const,
            path: '/treatment/recipe',
            sentence: 'The recipe has neither lead nor litharge: nothing collects the gold and silver.',
          },
        ]
      : []),
  ];
}
