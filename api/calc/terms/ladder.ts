import { Dec, grouped, type DecimalNumber } from '../money.ts';
import type { BracketLadder, Ladder, MarginalLadder } from './charge-terms.ts';

/** What a ladder gives at a level, with the arithmetic as it prints. */
export interface LadderRate {
  rate: DecimalNumber;
  /** For example `(0.4 − 0.2) ÷ 0.1 × 2`; '0' where nothing is due. */
  expression: string;
}

const STEP_WORDS = { 'pro-rata': '', 'whole-steps': 'whole steps in ', 'started-steps': 'started steps in ' };

function steps(excess: DecimalNumber, step: string, counting: MarginalLadder['counting']): DecimalNumber {
  const exact = excess.div(step);
  if (counting === 'whole-steps') return exact.floor();
  return counting === 'started-steps' ? exact.ceil() : exact;
}

/**
 * Rate of a marginal ladder: for every band, (level − from) ÷ step × rate, the level
 * taken no further than the next band's `from`. `falling` counts downwards from levels
 * in falling order, as an escalator does below its base price.
 */
export function marginalRate(
  ladder: MarginalLadder,
  level: DecimalNumber,
  direction: 'rising' | 'falling' = 'rising',
): LadderRate {
  let rate = new Dec(0);
  const parts: string[] = [];
  ladder.bands.forEach((band, index) => {
    const next = ladder.bands[index + 1];
    const rising = direction === 'rising';
    const end = next === undefined ? level : rising ? Dec.min(level, next.from) : Dec.max(level, next.from);
    const excess = rising ? end.minus(band.from) : new Dec(band.from).minus(end);
    if (excess.lte(0)) return;
    rate = rate.plus(steps(excess, band.step, ladder.counting).times(band.rate));
    const [upper, lower] = rising ? [end.toFixed(), band.from] : [band.from, end.toFixed()];
    const difference = `(${grouped(upper)} − ${grouped(lower)}) ÷ ${grouped(band.step)}`;
    const counted = ladder.counting === 'pro-rata' ? difference : `(${difference})`;
    parts.push(`${STEP_WORDS[ladder.counting]}${counted} × ${grouped(band.rate)}`);
  });
  return { rate, expression: parts.length === 0 ? '0' : parts.join(' + ') };
}

/** The bracket that the level has reached, or null below the first. */
export function bracketAt(
  ladder: BracketLadder,
  level: DecimalNumber,
): BracketLadder['brackets'][number] | null {
  const reached = ladder.brackets.filter((bracket) =>
    bracket.reachedAt === 'level' ? level.gte(bracket.from) : level.gt(bracket.from),
  );
  return reached.at(-1) ?? null;
}

/** Rate of either kind of ladder at a level. */
export function ladderRate(ladder: Ladder, level: DecimalNumber): LadderRate {
  if (ladder.kind === 'marginal') return marginalRate(ladder, level);
  const bracket = bracketAt(ladder, level);
  return bracket === null
    ? { rate: new Dec(0), expression: '0' }
    : { rate: new Dec(bracket.rate), expression: grouped(bracket.rate) };
}
