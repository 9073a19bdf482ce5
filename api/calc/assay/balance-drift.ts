import type { Finding } from '../finding.ts';
import { isReal } from './balance-check.ts';
import { figure } from './figures.ts';
import { weighingUncertaintyG } from './weighing.ts';
import type { Balance } from './weighing.ts';

export interface DatedCheck {
  on: string;
  weights: readonly { nominalMassG: number; readingG: number }[];
}

/** How far the reading of one check weight moved from one check to the next. */
export interface BalanceDrift {
  from: string;
  to: string;
  nominalMassG: number;
  changeG: number;
  /** Standard uncertainty of the change: two weighings. */
  uG: number;
  finding: Finding | null;
}

/**
 * Drift of a balance: the change of the reading of one check weight between checks that follow each other, its
 * standard uncertainty √2 times that of one weighing (`weighingUncertaintyG`), since the error of the weight itself
 * drops out. A change larger than its uncertainty (k = 2) and than the step of the display is said. Of each pair of
 * checks only the weight that moved most beside its uncertainty is given; checks come in any order, and those
 * without a weight in common give nothing.
 */
export function balanceDrift({
  checks,
  balance,
}: {
  checks: readonly DatedCheck[];
  balance: Balance;
}): BalanceDrift[] {
  const uG = Math.SQRT2 * weighingUncertaintyG(balance);
  const inOrder = checks.toSorted((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0));
  return inOrder.slice(1).flatMap((later, i): BalanceDrift[] => {
    const earlier = inOrder[i];
    if (earlier === undefined) return [];
    const moved = later.weights.flatMap(({ nominalMassG, readingG }) => {
      const before = earlier.weights.find((one) => one.nominalMassG === nominalMassG);
      return before === undefined ? [] : [{ nominalMassG, changeG: readingG - before.readingG }];
    });
    const most = moved.toSorted((a, b) => Math.abs(b.changeG) - Math.abs(a.changeG))[0];
    if (most === undefined) return [];
    const drift = { from: earlier.on, to: later.on, ...most, uG };
    const real = isReal({ value: most.changeG, u: uG }, balance.readabilityG);
    return [{ ...drift, finding: real ? driftFinding(drift) : null }];
  });
}

function driftFinding({ from, to, nominalMassG, changeG, uG }: Omit<BalanceDrift, 'finding'>): Finding {
  return {
    code: 'balance-drifted',
    level: 'warning',
    path: '/checks',
    sentence: `From ${from} to ${to} the reading of the ${figure(nominalMassG)} g weight ${changeG > 0 ? 'rose' : 'fell'} by ${figure(Math.abs(changeG))} g, more than weighing it twice explains (± ${figure(2 * uG, 2)} g); what was weighed in between may be off by part of it.`,
  };
}
