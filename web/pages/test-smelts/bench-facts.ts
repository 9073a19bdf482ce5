import type { BalanceFacts, SupplyFacts } from '../../../api/calc/facts/records.ts';
import { reagentByName } from '../../../api/calc/smelting/reagents.ts';
import type { BalanceRecord } from '../../../api/schemas/balance.ts';
import type { Supply } from '../../../api/schemas/supply.ts';
import type { OwnerChoices } from '../../lib/owner.ts';
import { parseDecimal } from '../../lib/parse-decimal.ts';
import { isNew, newBalanceIds, newReagentId } from './smelt-draft.ts';
import type { BalanceDraft, SmeltDraft } from './smelt-draft.ts';

/** What a reagent that is typed by name is kept as: litharge brings lead, everything else is a plain reagent. */
export function kindOfNewReagent(name: string): Supply['kind'] {
  return reagentByName(name) === 'litharge' ? 'litharge' : 'reagent';
}

/** A balance as typed, once its figures can be read; null before. */
function typedBalance(id: string, draft: BalanceDraft, owner: OwnerChoices): BalanceFacts | null {
  const readability = parseDecimal(draft.readabilityG, owner);
  const repeatability = parseDecimal(draft.repeatabilityG, owner);
  if (!readability.ok || !repeatability.ok) return null;
  if (readability.decimal === null || repeatability.decimal === null) return null;
  if (!(Number(readability.decimal) > 0) || Number(repeatability.decimal) < 0) return null;
  return {
    id,
    name: draft.name.trim() === '' ? 'the new balance' : draft.name.trim(),
    readabilityG: readability.decimal,
    repeatabilityG: repeatability.decimal,
    repeatabilityFrom: 'stated',
    checks: [],
  };
}

/** The balances at hand, those that are being typed among them. */
export function balancesAtHand(
  balances: readonly BalanceRecord[],
  draft: SmeltDraft,
  owner: OwnerChoices,
): BalanceFacts[] {
  const typed = [
    draft.sampleBalanceId === isNew
      ? typedBalance(newBalanceIds.sample, draft.newSampleBalance, owner)
      : null,
    draft.beadBalanceId === isNew ? typedBalance(newBalanceIds.bead, draft.newBeadBalance, owner) : null,
  ].filter((one) => one !== null);
  return [...balances, ...typed];
}

/** The supplies at hand, the reagents that are being typed among them. */
export function suppliesAtHand(
  supplies: readonly Supply[],
  draft: SmeltDraft,
): Pick<SupplyFacts, 'id' | 'name' | 'kind'>[] {
  const typed = draft.reagents.flatMap(({ supplyId, newName }, place) =>
    supplyId === isNew
      ? [{ id: newReagentId(place), name: newName.trim(), kind: kindOfNewReagent(newName) }]
      : [],
  );
  return [...supplies, ...typed];
}
