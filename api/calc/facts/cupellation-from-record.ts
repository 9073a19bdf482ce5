import { cupellationLossFromProofs } from '../assay/cupellation-loss.ts';
import type { TestSmelt } from '../assay/test-smelt.ts';
import { weighingUncertaintyG } from '../assay/weighing.ts';
import type { Finding } from '../finding.ts';
import type { Measured } from '../measured.ts';
import { balanceOf, balanceOn } from './balance-from-record.ts';
import type { BalanceFacts, CupellationFacts } from './records.ts';

const metals = [
  { metal: 'Au', name: 'gold', loss: 'goldLossFrac', u: 'goldLossStandardUncertaintyFrac' },
  { metal: 'Ag', name: 'silver', loss: 'silverLossFrac', u: 'silverLossStandardUncertaintyFrac' },
] as const;

/** Loss of a metal by its proofs, weighed as on the coarsest of their balances; null without a usable one. */
export function provedLoss(
  { proofs }: Pick<CupellationFacts, 'proofs'>,
  metal: 'Au' | 'Ag',
  balances: readonly BalanceFacts[],
): { lossFrac: Measured | null; findings: Finding[] } {
  const own = proofs.filter((proof) => proof.metal === metal);
  const weighedOn = own
    .map((proof) => balanceOn(balanceOf(balances, proof.balanceId), proof.provedOn).balance)
    .toSorted((a, b) => weighingUncertaintyG(b) - weighingUncertaintyG(a));
  const [balance] = weighedOn;
  return balance === undefined
    ? { lossFrac: null, findings: [] }
    : cupellationLossFromProofs({ proofs: own, balance });
}

/**
 * The mill's correction for losses in cupelling, as test smelts are worked with it: none where it is off; else the
 * losses stated or, where the owner wants it so, those that the proofs show. A metal without a usable proof has the
 * stated loss, and that is said.
 */
export function cupellationCorrection(
  cupellation: CupellationFacts,
  balances: readonly BalanceFacts[],
): { correction: TestSmelt['cupellationCorrection']; findings: Finding[] } {
  if (cupellation.correction === 'off') return { correction: null, findings: [] };
  const findings: Finding[] = [];
  const [goldLossFrac, silverLossFrac] = metals.map(({ metal, name, loss, u }): Measured => {
    const stated = { value: cupellation[loss], u: cupellation[u] };
    if (cupellation.correction === 'stated') return stated;
    const proved = provedLoss(cupellation, metal, balances);
    findings.push(...proved.findings.filter(({ level }) => level !== 'note'));
    if (proved.lossFrac !== null) return proved.lossFrac;
    findings.push({
      code: 'cupellation-proof-missing',
      level: 'note',
      path: '/cupellationCorrection',
      sentence: `No proof of ${name} tells its loss in cupelling: the stated loss is taken.`,
    });
    return stated;
  }) as [Measured, Measured];
  return { correction: { goldLossFrac, silverLossFrac }, findings };
}
