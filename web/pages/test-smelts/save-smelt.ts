import { api, ApiProblem, send } from '../../api.ts';
import type { TestSmeltRecord } from '../../../api/schemas/test-smelt.ts';
import type { Binding } from '../../lib/binding.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { decimalOf } from '../../lib/parse-decimal.ts';
import { kindOfNewReagent } from './bench-facts.ts';
import { isNew, sameBalance, smeltFromDraft } from './smelt-draft.ts';
import type { BalanceDraft, SmeltDraft } from './smelt-draft.ts';

/** Sends, and where the server refuses a field, points to where that field stands in this form. */
async function at<Answer>(place: (pointer: string) => string, request: Promise<Answer>): Promise<Answer> {
  try {
    return await request;
  } catch (error) {
    if (!(error instanceof ApiProblem)) throw error;
    const { problem } = error;
    const errors = problem.errors.map((one) => ({ ...one, pointer: place(one.pointer) }));
    throw new ApiProblem({ ...problem, errors }, { cause: error });
  }
}

/**
 * Saves a test smelt and whatever new it names: trial, reagents, balances. Each of them is noted in the draft
 * as soon as it is in the books, so that a second try does not enter it twice.
 */
export async function saveSmelt(
  form: Binding<SmeltDraft>,
  record: TestSmeltRecord | null,
  owner: OwnerChoices,
): Promise<TestSmeltRecord> {
  let draft = form.value;
  const note = (change: (draft: SmeltDraft) => SmeltDraft): void => {
    draft = change(draft);
    form.update(change);
  };

  const newBalance = async (field: 'newSampleBalance' | 'newBeadBalance'): Promise<string> => {
    const typed: BalanceDraft = draft[field];
    const { id } = await at(
      (pointer) => `/${field}${pointer}`,
      send(
        api.balances.$post({
          json: {
            name: typed.name,
            readabilityG: decimalOf(typed.readabilityG, owner) ?? '',
            repeatabilityG: decimalOf(typed.repeatabilityG, owner) ?? '',
          },
        }),
      ),
    );
    return id;
  };
  if (draft.beadBalanceId === isNew) {
    const id = await newBalance('newBeadBalance');
    note((earlier) => ({ ...earlier, beadBalanceId: id }));
  }
  if (draft.sampleBalanceId === isNew) {
    const id = await newBalance('newSampleBalance');
    note((earlier) => ({
      ...earlier,
      sampleBalanceId: id,
      beadBalanceId: earlier.beadBalanceId === sameBalance ? id : earlier.beadBalanceId,
    }));
  }
  for (const [place, reagent] of draft.reagents.entries()) {
    if (reagent.supplyId !== isNew) continue;
    const { id } = await at(
      () => `/reagents/${place}/newName`,
      send(
        api.supplies.$post({
          json: { name: reagent.newName, kind: kindOfNewReagent(reagent.newName), unit: 'kg' },
        }),
      ),
    );
    note((earlier) => ({
      ...earlier,
      reagents: earlier.reagents.map((one, index) => (index === place ? { ...one, supplyId: id } : one)),
    }));
  }
  if (draft.trialId === isNew) {
    const { id } = await at(
      (pointer) => (pointer === '/treatmentId' ? '/newTrialTreatmentId' : '/newTrialName'),
      send(
        api.trials.$post({
          json: {
            lotId: draft.lotId,
            name: draft.newTrialName,
            treatmentId: draft.newTrialTreatmentId === '' ? null : draft.newTrialTreatmentId,
          },
        }),
      ),
    );
    note((earlier) => ({ ...earlier, trialId: id }));
  }

  const body = smeltFromDraft(draft, record?.setAsideReason ?? null, owner);
  return record === null
    ? send(api['test-smelts'].$post({ json: body }))
    : send(
        api['test-smelts'][':id'].$put({
          param: { id: record.id },
          json: { ...body, version: record.version },
        }),
      );
}
