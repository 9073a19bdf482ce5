import type { Metal } from '../evidence/lot-evidence.ts';
import { createRandom } from '../random.ts';
import type { DecisionPrices } from './options.ts';

const BLOCK_DAYS = 256;
const DAYS_PER_YEAR = 365;
const COMMON_CORRELATION = 0.7;

function fillNormal(seed: number, stream: string, drawCount: number) {
  const random = createRandom(seed, stream);
  const draws = new Float64Array(drawCount);
  for (let n = 0; n < drawCount; n++) draws[n] = random.normal();
  return draws;
}

/**
 * Draws of a Brownian motion (unit: √day) at a whole day, always the same path
 * for the same seed and stream whatever other days are asked for: days 256 apart by
 * independent increments, days between by halving the interval (P. Lévy's construction).
 */
function brownianAt(day: number, seed: number, stream: string, drawCount: number) {
  let left = new Float64Array(drawCount);
  let leftDay = 0;
  const step = (block: number) => fillNormal(seed, `${stream}/block-${block}`, drawCount);
  for (; leftDay + BLOCK_DAYS <= day; leftDay += BLOCK_DAYS) {
    const increment = step(leftDay / BLOCK_DAYS);
    for (let n = 0; n < drawCount; n++) left[n]! += Math.sqrt(BLOCK_DAYS) * increment[n]!;
  }
  if (leftDay === day) return left;
  let right = step(leftDay / BLOCK_DAYS);
  for (let n = 0; n < drawCount; n++) right[n] = left[n]! + Math.sqrt(BLOCK_DAYS) * right[n]!;
  for (let width = BLOCK_DAYS; ; width /= 2) {
    const middleDay = leftDay + width / 2;
    const middle = fillNormal(seed, `${stream}/day-${middleDay}`, drawCount);
    const spread = Math.sqrt(width / 4);
    for (let n = 0; n < drawCount; n++) middle[n] = (left[n]! + right[n]!) / 2 + spread * middle[n]!;
    if (middleDay === day) return middle;
    if (day < middleDay) right = middle;
    else {
      left = middle;
      leftDay = middleDay;
    }
  }
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
): Record<Metal, Float64Array> {
  const correlation = prices.goldSilverCorrelation ?? COMMON_CORRELATION;
  const own = Math.sqrt(1 - correlation * correlation);
  const gold = new Float64Array(drawCount).fill(1);
  const silver = new Float64Array(drawCount).fill(1);
  const goldSd = prices.Au.annualVolatilityFrac / Math.sqrt(DAYS_PER_YEAR);
  const silverSd = prices.Ag.annualVolatilityFrac / Math.sqrt(DAYS_PER_YEAR);
  if (day === 0 || (goldSd === 0 && silverSd === 0)) return { Au: gold, Ag: silver };
  const common = brownianAt(day, seed, 'price/Au', drawCount);
  const alone = brownianAt(day, seed, 'price/Ag', drawCount);
  for (let n = 0; n < drawCount; n++) {
    gold[n] = Math.exp(goldSd * common[n]! - 0.5 * goldSd * goldSd * day);
    const together = correlation * common[n]! + own * alone[n]!;
    silver[n] = Math.exp(silverSd * together - 0.5 * silverSd * silverSd * day);
  }
  return { Au: gold, Ag: silver };
}
