import type { Metal } from '../evidence/lot-evidence.ts';
import { createRandom } from '../random.ts';
import type { DecisionPrices } from './options.ts';

const BLOCK_DAYS = 64;
const DAYS_PER_YEAR = 365;
const COMMON_CORRELATION = 0.7;

/** Columns of a path at the days that were asked for, by stream and day. */
export type KeptPaths = Map<string, Float64Array>;

/**
 * Draws of a Brownian motion (unit: √day) at a whole day, always the same path
 * for the same seed and stream whatever other days are asked for: days 64 apart by
 * independent increments, days between by halving the interval (P. Lévy's construction). What was worked
 * out for other days is taken from `kept`.
 */
function brownianAt(
  day: number,
  path: { seed: number; stream: string; drawCount: number; kept: KeptPaths },
): Float64Array {
  const { seed, stream, drawCount, kept } = path;
  const key = `${stream}@${day}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const column = new Float64Array(drawCount);
  kept.set(key, column);
  if (day === 0) return column;
  if (day % BLOCK_DAYS === 0) {
    const before = brownianAt(day - BLOCK_DAYS, path);
    const { normal } = createRandom(seed, `${stream}/block-${day / BLOCK_DAYS - 1}`);
    const spread = Math.sqrt(BLOCK_DAYS);
    for (let n = 0; n < drawCount; n++) column[n] = before[n]! + spread * normal();
    return column;
  }
  // The interval that this day halves: as wide as the largest power of two in the day, either way.
  const half = day & -day;
  const left = brownianAt(day - half, path);
  const right = brownianAt(day + half, path);
  const { normal } = createRandom(seed, `${stream}/day-${day}`);
  const spread = Math.sqrt(half / 2);
  for (let n = 0; n < drawCount; n++) column[n] = (left[n]! + right[n]!) / 2 + spread * normal();
  return column;
}

/**
 * Draws of the gold and silver price after a whole number of days, as multiples of
 * today's: lognormal, exp(σ W − σ² t / 2) with W a Brownian motion and t in
 * years of 365 days, so that the expected price is today's. The price at
 * different days belongs to one path, and gold and silver move together by their correlation.
 */
export function drawPriceFactors(
  prices: DecisionPrices,
  day: number,
  drawCount: number,
  seed: number,
  kept: KeptPaths = new Map(),
): Record<Metal, Float64Array> {
  const correlation = prices.goldSilverCorrelation ?? COMMON_CORRELATION;
  const own = Math.sqrt(1 - correlation * correlation);
  const gold = new Float64Array(drawCount).fill(1);
  const silver = new Float64Array(drawCount).fill(1);
  const goldSd = prices.Au.annualVolatilityFrac / Math.sqrt(DAYS_PER_YEAR);
  const silverSd = prices.Ag.annualVolatilityFrac / Math.sqrt(DAYS_PER_YEAR);
  if (day === 0 || (goldSd === 0 && silverSd === 0)) return { Au: gold, Ag: silver };
  const common = brownianAt(day, { seed, stream: 'price/Au', drawCount, kept });
  const alone = brownianAt(day, { seed, stream: 'price/Ag', drawCount, kept });
  for (let n = 0; n < drawCount; n++) {
    gold[n] = Math.exp(goldSd * common[n]! - 0.5 * goldSd * goldSd * day);
    const together = correlation * common[n]! + own * alone[n]!;
    silver[n] = Math.exp(silverSd * together - 0.5 * silverSd * silverSd * day);
  }
  return { Au: gold, Ag: silver };
}
