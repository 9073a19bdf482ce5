import { treatmentCost } from '../../../api/calc/facts/treatment-cost.ts';
import type { TreatmentCost } from '../../../api/calc/facts/treatment-cost.ts';
import type { CostedTreatment } from '../../../api/calc/facts/treatment-needs.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal, shiftPoint } from '../../lib/parse-decimal.ts';
import { storedDecimal } from '../../lib/quantities.ts';
import type { TreatmentDraft } from './treatment-draft.ts';

/** The cost of what is typed so far; `unread` names what is still missing or cannot be read. */
export function liveCost(
  draft: TreatmentDraft,
  supplies: readonly Supply[],
  { owner, on }: { owner: OwnerChoices; on: string },
): { cost: TreatmentCost | null; unread: string[] } {
  const unread: string[] = [];
  const decimal = (
    name: string,
    typed: string,
    limits: { above?: number; whenEmpty?: string } = {},
  ): string => {
    const parsed = parseDecimal(typed, owner);
    const found = parsed.ok ? (parsed.decimal ?? limits.whenEmpty ?? null) : null;
    if (found === null || (limits.above !== undefined && !(Number(found) > limits.above))) unread.push(name);
    return found ?? '0';
  };
  const frac = (name: string, typed: string): number => Number(shiftPoint(decimal(name, typed), -2));
  const none = { whenEmpty: '0' };
  const treatment: CostedTreatment = {
    recipe: draft.recipe
      .filter(({ supplyId }) => supplyId !== '')
      .map(({ supplyId, gramsPerHundredG }) => ({
        supplyId,
        gramsPerHundredG: decimal(
          `grams of ${supplies.find(({ id }) => id === supplyId)?.name ?? 'a supply'}`,
          gramsPerHundredG,
        ),
      })),
    chargeSizeKg: Number(
      storedDecimal('lotMassKg', decimal('charge size', draft.chargeSizeKg, { above: 0 }), owner),
    ),
    labourHoursPerCharge: Number(decimal('labour hours', draft.labourHoursPerCharge, none)),
    labourSupplyId: draft.labourSupplyId === '' ? null : draft.labourSupplyId,
    fuelSupplyId: draft.fuelSupplyId === '' ? null : draft.fuelSupplyId,
    fuelPerCharge: Number(decimal('fuel per charge', draft.fuelPerCharge, none)),
    crucibleSupplyId: draft.crucibleSupplyId === '' ? null : draft.crucibleSupplyId,
    crucibleLifeCharges: Number(decimal('crucible life', draft.crucibleLifeCharges, { above: 0 })),
    leadReturnLowFrac: frac('lead return, low', draft.leadReturnLowFrac),
    leadReturnModeFrac: frac('lead return, likely', draft.leadReturnModeFrac),
    leadReturnHighFrac: frac('lead return, high', draft.leadReturnHighFrac),
    wasteCostPerKg: decimal('waste disposal', draft.wasteCostPerKg, none),
  };
  if (unread.length > 0) return { cost: null, unread };
  return { cost: treatmentCost(treatment, { supplies, on, currency: owner.currency }), unread };
}
