import { constant, Dec, grouped, type DecimalNumber } from '../money.ts';
import type { BracketLadder, Ladder, MarginalLadder, ShortfallLadder } from './charge-terms.ts';

/** What a ladder gives at a level, with the arithmetic as it prints. */
export interface LadderRate {
  rate: DecimalNumber;
  /** For example `(0.4 − 0.2) ÷ 0.1 × 2`; '0' where nothing is due. */
  expression: string;
}

const STEP_WORDS = { 'pro-rata': '', 'whole-steps': 'whole steps in ', 'started-steps': 'started steps in ' };

function steps(excess: DecimalNumber, step: string, counting: MarginalLadder['counting']): DecimalNumber {
  const exact = excess.div(constant(step));
  if (counting === 'whole-steps') return exact.floor();
  return counting === 'started-steps' ? exact.ceil() : exact;
}

/** Sums every band's steps between its level and the next, up to the level reached. */
function climb(ladder: Omit<MarginalLadder, 'kind'>, level: string, falling: boolean): LadderRate {
  const reached = new Dec(level);
  let rate = new Dec(0);
  const parts: string[] = [];
  ladder.bands.forEach((band, index) => {
    const next = ladder.bands[index + 1]?.from;
    const beyondNext = next !== undefined && (falling ? reached.lt(next) : reached.gt(next));
    const end = beyondNext ? next : level;
    const [upper, lower] = falling ? [band.from, end] : [end, band.from];
    const endValue = beyondNext ? constant(next) : reached;
    const from = constant(band.from);
    const excess = falling ? from.minus(endValue) : endValue.minus(from);
    if (excess.lte(0)) return;
    rate = rate.plus(steps(excess, band.step, ladder.counting).times(constant(band.rate)));
    const difference = `(${grouped(upper)} − ${grouped(lower)}) ÷ ${grouped(band.step)}`;
    const counted = ladder.counting === 'pro-rata' ? difference : `(${difference})`;
    parts.push(`${STEP_WORDS[ladder.counting]}${counted} × ${grouped(band.rate)}`);
  });
  return { rate, expression: parts.length === 0 ? '0' : parts.join(' + ') };
}

/**
 * Rate of a marginal ladder: for every band, (level − from) ÷ step × rate, the level
 * taken no further than the next band's `from`.
 */
export function marginalRate(ladder: MarginalLadder, level: string): LadderRate {
  return climb(ladder, level, false);
}

/** Rate of a ladder that counts downwards: for every band, (from − level) ÷ step × rate. */
export function shortfallRate(ladder: ShortfallLadder, level: string): LadderRate {
  return climb(ladder, level, true);
}

/** The bracket that the level has reached, or null below the first. */
export function bracketAt(ladder: BracketLadder, level: string): BracketLadder['brackets'][number] | null {
  const at = new Dec(level);
  const reached = ladder.brackets.filter((bracket) =>
    bracket.reachedAt === 'level' ? at.gte(bracket.from) : at.gt(bracket.from),
  );
  return reached.at(-1) ?? null;
}

/** Rate of any kind of ladder at a level. */
export function ladderRate(ladder: Ladder, level: string): LadderRate {
  if (ladder.kind === 'marginal') return marginalRate(ladder, level);
  if (ladder.kind === 'shortfall') return shortfallRate(ladder, level);
  const bracket = bracketAt(ladder, level);
  return bracket === null
    ? { rate: new Dec(0), expression: '0' }
    : { rate: new Dec(bracket.rate), expression: grouped(bracket.rate) };
}
