import type { TestSmeltFacts } from '../../../api/calc/facts/records.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { editableText, parseDecimal } from '../../lib/parse-decimal.ts';
import { shownText, storedDecimal } from '../../lib/quantities.ts';
import type { Quantity } from '../../lib/quantities.ts';

/** Stands for a record that is typed in the same form and saved with it. */
export const isNew = 'new';

/** Of the bead's balance: the new one that also weighs the sample. */
export const sameBalance = 'same';

/** A balance typed where there is none yet. */
export interface BalanceDraft {
  name: string;
  readabilityG: string;
  repeatabilityG: string;
}

export interface ReagentDraft {
  supplyId: string;
  /** Name of a reagent that is not among the supplies yet; counts where `supplyId` says so. */
  newName: string;
  massG: string;
}

/** What is weighed, each under the name of the field that is sent; all typed texts. */
const weighed = [
  'sampleMassG',
  'massBeforeRoastG',
  'massAfterRoastG',
  'roastHours',
  'collectorLeadG',
  'ironInG',
  'ironOutG',
  'crucibleVolumeMl',
  'buttonG',
  'matteG',
  'slagG',
  'beadMg',
  'partedGoldMg',
  'inquartSilverMg',
  'blankMgPerLeadG',
  'blankStandardUncertaintyMgPerLeadG',
] as const;
export type Weighed = (typeof weighed)[number];

/** Lab assays of the products, typed in the owner's unit of grades. */
const graded = ['matteGoldGpt', 'matteSilverGpt', 'slagGoldGpt', 'slagSilverGpt'] as const;
type Graded = (typeof graded)[number];

/** A test smelt as it is typed. */
export interface SmeltDraft extends Record<Weighed | Graded, string> {
  lotId: string;
  trialId: string;
  newTrialName: string;
  newTrialTreatmentId: string;
  sample: string;
  smeltedOn: string;
  roasted: boolean;
  roastTempC: string;
  reagents: ReagentDraft[];
  sampleBalanceId: string;
  beadBalanceId: string;
  newSampleBalance: BalanceDraft;
  newBeadBalance: BalanceDraft;
  remarks: string;
}

const emptyBalance: BalanceDraft = { name: '', readabilityG: '', repeatabilityG: '' };

export function emptySmeltDraft(start: Partial<SmeltDraft>): SmeltDraft {
  return {
    ...(Object.fromEntries([...weighed, ...graded].map((field) => [field, ''])) as Record<
      Weighed | Graded,
      string
    >),
    lotId: '',
    trialId: '',
    newTrialName: '',
    newTrialTreatmentId: '',
    sample: '',
    smeltedOn: '',
    roasted: false,
    roastTempC: '',
    reagents: [],
    sampleBalanceId: '',
    beadBalanceId: '',
    newSampleBalance: emptyBalance,
    newBeadBalance: emptyBalance,
    remarks: '',
    ...start,
  };
}

export function smeltDraftOf(record: TestSmeltRecord, lotId: string, owner: OwnerChoices): SmeltDraft {
  return emptySmeltDraft({
    ...(Object.fromEntries(weighed.map((field) => [field, editableText(record[field], owner)])) as Record<
      Weighed,
      string
    >),
    ...(Object.fromEntries(
      graded.map((field) => [field, shownText('gradeGpt', record[field], owner)]),
    ) as Record<Graded, string>),
    lotId,
    trialId: record.trialId,
    sample: record.sample,
    smeltedOn: record.smeltedOn,
    roasted: record.roasted,
    roastTempC: shownText('tempC', record.roastTempC, owner),
    reagents: record.reagents.map(({ supplyId, massG }) => ({
      supplyId,
      newName: '',
      massG: editableText(massG, owner),
    })),
    sampleBalanceId: record.sampleBalanceId,
    beadBalanceId: record.beadBalanceId,
    remarks: record.remarks,
  });
}

/** What is typed as a number; null where nothing is, or nothing that can be read: then its field says so. */
export function readNumber(typed: string, owner: { decimalComma: boolean }): number | null {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null ? Number(parsed.decimal) : null;
}

function readQuantity(quantity: Quantity, typed: string, owner: OwnerChoices): number | null {
  const parsed = parseDecimal(typed, owner);
  return parsed.ok && parsed.decimal !== null ? Number(storedDecimal(quantity, parsed.decimal, owner)) : null;
}

/**
 * The test as far as it is typed, for working it up while it is still on the bench. A reagent or balance that
 * is new goes by its place in the form (`newReagentId`, `isNew` balances).
 */
export function smeltSoFar(draft: SmeltDraft, owner: OwnerChoices): TestSmeltFacts {
  const numbers = Object.fromEntries(
    weighed.map((field) => [field, readNumber(draft[field], owner)]),
  ) as Record<Weighed, number | null>;
  const roast = draft.roasted
    ? { roastTempC: readQuantity('tempC', draft.roastTempC, owner) }
    : { massBeforeRoastG: null, massAfterRoastG: null, roastHours: null, roastTempC: null };
  const grades = Object.fromEntries(
    graded.map((field) => [field, readQuantity('gradeGpt', draft[field], owner)]),
  ) as Record<Graded, number | null>;
  return {
    ...numbers,
    ...grades,
    ...roast,
    id: '',
    sample: draft.sample,
    smeltedOn: draft.smeltedOn,
    sampleMassG: numbers.sampleMassG ?? 0,
    roasted: draft.roasted,
    reagents: draft.reagents.flatMap(({ supplyId, massG }, place) => {
      const mass = readNumber(massG, owner);
      if (supplyId === '' || mass === null) return [];
      return [{ supplyId: supplyId === isNew ? newReagentId(place) : supplyId, massG: mass }];
    }),
    ...balanceIdsOf(draft),
    setAsideReason: null,
  };
}

/** Ids of what is typed in the form and not yet in the books. */
export const newReagentId = (place: number): string => `new-reagent-${place}`;
/** The place in the form of a reagent that is new; null for one that is in the books. */
export function newReagentPlace(id: string): number | null {
  const [, place] = /^new-reagent-(\d+)$/.exec(id) ?? [];
  return place === undefined ? null : Number(place);
}
export const newBalanceIds = { sample: 'new-sample-balance', bead: 'new-bead-balance' } as const;

/** Which balances weighed, by their ids or by those that stand for new ones. */
function balanceIdsOf(draft: SmeltDraft): { sampleBalanceId: string; beadBalanceId: string } {
  const sampleBalanceId = draft.sampleBalanceId === isNew ? newBalanceIds.sample : draft.sampleBalanceId;
  const bead = draft.beadBalanceId;
  return {
    sampleBalanceId,
    beadBalanceId: bead === sameBalance ? sampleBalanceId : bead === isNew ? newBalanceIds.bead : bead,
  };
}
