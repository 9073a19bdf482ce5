import type { z } from 'zod';
import { Dec } from '../../../api/calc/money.ts';
import type { Mill } from '../../../api/schemas/mill.ts';
import type { newProductionDay, ProductionDay } from '../../../api/schemas/production-day.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf, editableText, parseDecimal, shiftPoint } from '../../lib/parse-decimal.ts';
import { shownText, storedDecimal, storedOf } from '../../lib/quantities.ts';
import { fracOfPercent } from '../lots/lot-draft.ts';
import { tonnesPerUnit } from './feed-units.ts';

/** A day as it is typed: masses and grades in the owner's unit, fractions in percent. Named as the fields that are sent. */
export interface DayDraft {
  day: string;
  feedQuantity: string;
  feedUnit: ProductionDay['feedUnit'];
  feedTonnesPerUnit: string;
  feedMoistureFrac: string;
  feedGoldGpt: string;
  feedSilverGpt: string;
  tailingsGoldGpt: string;
  tailingsSilverGpt: string;
  concentrateWetKg: string;
  concentrateMoistureFrac: string;
  hoursRun: string;
  supplies: { supplyId: string; quantity: string }[];
  labour: { person: string; supplyId: string; hours: string }[];
  remarks: string;
}

const percentShown = (frac: string | null, owner: OwnerChoices): string =>
  frac === null ? '' : editableText(shiftPoint(frac, 2), owner);

/** A new day begins with the mill's way of counting feed and the last moisture of concentrate. */
export function emptyDayDraft(
  mill: Mill,
  { day, before, owner }: { day: string; before: ProductionDay | undefined; owner: OwnerChoices },
): DayDraft {
  return {
    day,
    feedQuantity: '',
    feedUnit: mill.feedUnit,
    feedTonnesPerUnit: editableText(tonnesPerUnit(mill.feedUnit, mill), owner),
    feedMoistureFrac: percentShown(mill.feedMoistureFrac, owner),
    feedGoldGpt: '',
    feedSilverGpt: '',
    tailingsGoldGpt: '',
    tailingsSilverGpt: '',
    concentrateWetKg: '',
    concentrateMoistureFrac: percentShown(before?.concentrateMoistureFrac ?? null, owner),
    hoursRun: '',
    supplies: [],
    labour: [],
    remarks: '',
  };
}

export const labourDraftOf = (day: ProductionDay, owner: OwnerChoices): DayDraft['labour'] =>
  day.labour.map(({ person, supplyId, hours }) => ({ person, supplyId, hours: editableText(hours, owner) }));

const suppliesDraftOf = (day: ProductionDay, owner: OwnerChoices): DayDraft['supplies'] =>
  day.supplies.map(({ supplyId, quantity }) => ({ supplyId, quantity: editableText(quantity, owner) }));

export function dayDraftOf(day: ProductionDay, owner: OwnerChoices): DayDraft {
  const grade = (gpt: string | null): string => shownText('gradeGpt', gpt, owner);
  return {
    day: day.day,
    feedQuantity: editableText(day.feedQuantity, owner),
    feedUnit: day.feedUnit,
    feedTonnesPerUnit: editableText(day.feedTonnesPerUnit, owner),
    feedMoistureFrac: percentShown(day.feedMoistureFrac, owner),
    feedGoldGpt: grade(day.feedGoldGpt),
    feedSilverGpt: grade(day.feedSilverGpt),
    tailingsGoldGpt: grade(day.tailingsGoldGpt),
    tailingsSilverGpt: grade(day.tailingsSilverGpt),
    concentrateWetKg: shownText('lotMassKg', day.concentrateWetKg, owner),
    concentrateMoistureFrac: percentShown(day.concentrateMoistureFrac, owner),
    hoursRun: editableText(day.hoursRun, owner),
    supplies: suppliesDraftOf(day, owner),
    labour: labourDraftOf(day, owner),
    remarks: day.remarks,
  };
}

/** What is sent; only for a draft whose fields have been accepted. */
export function dayFromDraft(draft: DayDraft, owner: OwnerChoices): z.input<typeof newProductionDay> {
  const grade = (typed: string): string | null => storedOf('gradeGpt', typed, owner);
  const wetKg = storedOf('lotMassKg', draft.concentrateWetKg, owner);
  return {
    day: draft.day,
    feedQuantity: decimalOf(draft.feedQuantity, owner),
    feedUnit: draft.feedUnit,
    feedTonnesPerUnit: decimalOf(draft.feedTonnesPerUnit, owner) ?? '',
    feedMoistureFrac: fracOfPercent(draft.feedMoistureFrac, owner) ?? '0',
    feedGoldGpt: grade(draft.feedGoldGpt),
    feedSilverGpt: grade(draft.feedSilverGpt),
    tailingsGoldGpt: grade(draft.tailingsGoldGpt),
    tailingsSilverGpt: grade(draft.tailingsSilverGpt),
    concentrateWetKg: wetKg,
    concentrateMoistureFrac: wetKg === null ? null : fracOfPercent(draft.concentrateMoistureFrac, owner),
    hoursRun: decimalOf(draft.hoursRun, owner),
    supplies: draft.supplies.map(({ supplyId, quantity }) => ({
      supplyId,
      quantity: decimalOf(quantity, owner) ?? '',
    })),
    labour: draft.labour.map(({ person, supplyId, hours }) => ({
      person,
      supplyId,
      hours: decimalOf(hours, owner) ?? '',
    })),
    remarks: draft.remarks,
  };
}

/** Dry masses of what is typed so far; null until they can be worked out. */
export function dryOfDraft(
  draft: DayDraft,
  owner: OwnerChoices,
): { feedDryT: string | null; concentrateDryKg: string | null } {
  const read = (typed: string): string | null => {
    const parsed = parseDecimal(typed, owner);
    return parsed.ok ? parsed.decimal : null;
  };
  const dry = (wet: string | null, percent: string | null): string | null => {
    if (wet === null || percent === null) return null;
    return new Dec(wet).times(new Dec(100).minus(percent)).div(100).toDecimalPlaces(3).toFixed();
  };
  const quantity = read(draft.feedQuantity);
  const perUnit = read(draft.feedTonnesPerUnit);
  const wet = read(draft.concentrateWetKg);
  return {
    feedDryT: dry(
      quantity === null || perUnit === null ? null : new Dec(quantity).times(perUnit).toFixed(),
      read(draft.feedMoistureFrac) ?? '0',
    ),
    concentrateDryKg: dry(
      wet === null ? null : storedDecimal('lotMassKg', wet, owner),
      read(draft.concentrateMoistureFrac),
    ),
  };
}
