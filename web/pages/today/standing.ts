import { sumOf } from '../../../api/calc/money.ts';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import type { Formatter } from '../../lib/format.ts';

/** The season that a day falls in, else the newest. */
export function seasonOn(seasons: readonly Season[], day: string): Season | null {
  return seasons.find(({ startsOn, endsOn }) => startsOn <= day && day <= endsOn) ?? seasons[0] ?? null;
}

/** `Season 2031`, and no second "Season" where the name has one already. */
export function seasonTitle(name: string): string {
  return /^season\b/i.test(name) ? name : `Season ${name}`;
}

/** Where the season stands: what is left to work up, and what has come in so far, in one sentence. */
export function standing(
  { season, lots, batches }: { season: Season; lots: readonly Lot[]; batches: readonly Batch[] },
  format: Formatter,
  currency: string,
): string {
  const ofSeason = lots.filter(({ seasonId }) => seasonId === season.id);
  const ids = new Set(ofSeason.map(({ id }) => id));
  const made = batches.filter(({ lotId, status }) => ids.has(lotId) && status !== 'cancelled');
  const left = format.quantity('lotMassKg', sumOf(ofSeason.map(({ leftKg }) => leftKg)).toFixed());
  const title = seasonTitle(season.name);
  if (ofSeason.length === 0) return `${title} has no lot yet.`;
  const lotText = `${left} dry is left in ${ofSeason.length === 1 ? 'one lot' : `${ofSeason.length} lots`}`;
  if (made.length === 0) return `${title}: ${lotText}; no batch is planned yet.`;
  const settled = made.flatMap(({ actualNetValue, currency: batchCurrency }) =>
    actualNetValue === null || batchCurrency !== currency ? [] : [actualNetValue],
  );
  const batchText = made.length === 1 ? 'the one batch' : `${made.length} batches`;
  if (settled.length === 0)
    return `${title}: ${lotText}; ${made.length === 1 ? 'the one batch is' : `none of ${batchText} is`} ${made.length === 1 ? 'not settled' : 'settled'} yet.`;
  const net = format.money(sumOf(settled).toFixed(2), currency);
  const share = settled.length === made.length ? batchText : `${settled.length} of ${batchText}`;
  return `${title}: ${share} ${made.length === 1 || settled.length === 1 ? 'has' : 'have'} brought ${net} net so far; ${lotText}.`;
}
