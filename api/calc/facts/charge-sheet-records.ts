import { chargeSheet } from '../smelting/charge-sheet.ts';
import type { ChargeSheet } from '../smelting/charge-sheet.ts';
import type { ChargeSheetInput, RecipeLine } from '../smelting/charge-sheet-input.ts';
import type { Finding } from '../finding.ts';
import { mineralShares } from './check-charge.ts';
import type { LotFacts, SupplyFacts, TreatmentFacts } from './records.ts';

/** A supply as a charge sheet needs it. */
export interface ChargeSupply extends Pick<SupplyFacts, 'id' | 'name' | 'kind' | 'unit'> {
  crucibleVolumeMl: number | null;
  cupelLeadCapacityG: number | null;
}

/** A treatment as a charge sheet needs it. */
export interface ChargeTreatment extends Pick<
  TreatmentFacts,
  | 'roast'
  | 'recipe'
  | 'chargeSizeKg'
  | 'furnaceHoursPerCharge'
  | 'labourHoursPerCharge'
  | 'fuelSupplyId'
  | 'fuelPerCharge'
  | 'crucibleSupplyId'
  | 'crucibleLifeCharges'
  | 'leadReturnLowFrac'
  | 'leadReturnModeFrac'
  | 'leadReturnHighFrac'
> {
  roastHoursPerCharge: number;
  cupelSupplyId: string | null;
  roastPanKg: number | null;
}

export interface ChargeSheetRecords {
  /** Of the batch, decimal text. */
  dryMassKg: string;
  lot: Pick<LotFacts, 'minerals'>;
  treatment: ChargeTreatment;
  supplies: readonly ChargeSupply[];
  /** Of the mill, decimal text. */
  weighingStepG: string;
}

/** What a charge sheet is worked from, as it stands in the books; a supply that is gone from the list is a blocker. */
export function chargeSheetInput(records: ChargeSheetRecords): {
  input: ChargeSheetInput;
  findings: Finding[];
} {
  const { treatment, supplies } = records;
  const find = (id: string | null) => supplies.find((supply) => supply.id === id) ?? null;
  const findings: Finding[] = [];
  const recipe = treatment.recipe.flatMap(({ supplyId, gramsPerHundredG }, index): RecipeLine[] => {
    const supply = find(supplyId);
    if (supply !== null) return [{ supplyId, name: supply.name, kind: supply.kind, gramsPerHundredG }];
    findings.push({
      code: 'supply-missing',
      level: 'blocker',
      path: `/treatment/recipe/${index}/supplyId`,
      sentence:
        'The recipe names a supply that is not on the list any more: put it right in the treatment first.',
    });
    return [];
  });
  const fuel = find(treatment.fuelSupplyId);
  const crucible = find(treatment.crucibleSupplyId);
  const cupel = find(treatment.cupelSupplyId);
  const input: ChargeSheetInput = {
    dryMassKg: records.dryMassKg,
    minerals: mineralShares(records.lot),
    treatment: { ...treatment, recipe },
    fuel: fuel && { name: fuel.name, unit: fuel.unit },
    crucible: crucible && { name: crucible.name, volumeMl: crucible.crucibleVolumeMl },
    cupel:
      cupel === null || cupel.cupelLeadCapacityG === null
        ? null
        : { name: cupel.name, leadCapacityG: cupel.cupelLeadCapacityG },
    roastPanKg: treatment.roastPanKg,
    weighingStepG: records.weighingStepG,
  };
  return { input, findings };
}

/** The charge sheet of a batch as its treatment stands (`chargeSheet`). */
export function chargeSheetOfRecords(records: ChargeSheetRecords): {
  input: ChargeSheetInput;
  sheet: ChargeSheet | null;
  findings: Finding[];
} {
  const { input, findings: blockers } = chargeSheetInput(records);
  if (blockers.length > 0) return { input, sheet: null, findings: blockers };
  return { input, ...chargeSheet(input) };
}
