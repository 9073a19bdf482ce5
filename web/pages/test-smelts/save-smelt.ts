import type { z } from 'zod';
import { api, ApiProblem, send } from '../../api.ts';
import type { newBalance } from '../../../api/schemas/balance.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import type { testSmeltEntry } from '../../../api/schemas/test-smelt-entry.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { kindOfNewReagent } from './bench-facts.ts';
import { isNew, newReagentPlace, sameBalance, smeltSoFar } from './smelt-draft.ts';
import type { BalanceDraft, SmeltDraft } from './smelt-draft.ts';

/**
 * A test smelt as it is sent, with whatever new it names; only for a draft whose fields have been accepted. All of
 * it is entered, or nothing.
 */
export function smeltEntry(
  draft: SmeltDraft,
  setAsideReason: string | null,
  owner: OwnerChoices,
): z.input<typeof testSmeltEntry> {
  const { id: _none, ...typed } = smeltSoFar(draft, owner);
  const idOf = (choice: string): string | null =>
    choice === isNew || choice === sameBalance ? null : choice;
  const newBalanceOf = (choice: string, balance: BalanceDraft): z.input<typeof newBalance> | null =>
    choice === isNew
      ? {
          name: balance.name,
          readabilityG: decimalOf(balance.readabilityG, owner) ?? '',
          repeatabilityG: decimalOf(balance.repeatabilityG, owner) ?? '',
        }
      : null;
  const beadBalance =
    draft.beadBalanceId === sameBalance && draft.sampleBalanceId !== isNew
      ? draft.sampleBalanceId
      : draft.beadBalanceId;
  return {
    ...typed,
    trialId: idOf(draft.trialId),
    newTrial:
      draft.trialId === isNew
        ? {
            lotId: draft.lotId,
            name: draft.newTrialName,
            treatmentId: draft.newTrialTreatmentId === '' ? null : draft.newTrialTreatmentId,
          }
        : null,
    sampleBalanceId: idOf(draft.sampleBalanceId),
    newSampleBalance: newBalanceOf(draft.sampleBalanceId, draft.newSampleBalance),
    beadBalanceId: idOf(beadBalance),
    newBeadBalance: newBalanceOf(beadBalance, draft.newBeadBalance),
    reagents: typed.reagents.map(({ supplyId, massG }) => {
      const place = newReagentPlace(supplyId);
      if (place === null) return { supplyId, massG };
      const name = draft.reagents[place]?.newName ?? '';
      return { newSupply: { name, kind: kindOfNewReagent(name), unit: 'kg' as const }, massG };
    }),
    setAsideReason,
    remarks: draft.remarks,
  };
}

/** Where a field of the entry stands in the form. */
export function placeInForm(pointer: string): string {
  if (pointer === '/newTrial/treatmentId') return '/newTrialTreatmentId';
  if (pointer.startsWith('/newTrial/')) return '/newTrialName';
  return pointer.replace(/^(\/reagents\/\d+)\/newSupply\/.*$/, '$1/newName');
}

/** Saves a test smelt and whatever new it names; what the server refuses points to its field of the form. */
export async function saveSmelt(
  draft: SmeltDraft,
  record: TestSmeltRecord | null,
  owner: OwnerChoices,
): Promise<TestSmeltRecord> {
  const json = smeltEntry(draft, record?.setAsideReason ?? null, owner);
  try {
    return await (record === null
      ? send(api['test-smelts'].$post({ json }))
      : send(
          api['test-smelts'][':id'].$put({
            param: { id: record.id },
            json: { ...json, version: record.version },
          }),
        ));
  } catch (error) {
    if (!(error instanceof ApiProblem)) throw error;
    const { problem } = error;
    const errors = problem.errors.map((one) => ({ ...one, pointer: placeInForm(one.pointer) }));
    throw new ApiProblem({ ...problem, errors }, { cause: error });
  }
}
