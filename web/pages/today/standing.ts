import { sumOf } from '../../../api/calc/money.ts';
import type { Batch } from '../../../api/schemas/batch.ts';
import type { Lot } from '../../../api/schemas/lot.ts';
import type { Season } from '../../../api/schemas/mill.ts';
import { seasonTitle } from '../../../reports/model/season-title.ts';
import type { Formatter } from '../../lib/format.ts';

/** The season that a day falls in, else the newest. */
export function seasonOn(seasons: readonly Season[], day: string): Season | null {
  return seasons.find(({ startsOn, endsOn }) => startsOn <= day && day <= endsOn) ?? seasons[0] ?? null;
}

/** Where the season stands: what has come in so far, and what is left to work up, in one sentence. */
export function standing(
  { season, lots, batches }: { season: Season; lots: readonly Lot[]; batches: readonly Batch[] },
  format: Formatter,
  currency: string,
): string {
  const title = seasonTitle(season.name);
  const ofSeason = lots.filter(({ seasonId }) => seasonId === season.id);
  if (ofSeason.length === 0) return `${title} has no lot yet.`;
  const leftKg = sumOf(ofSeason.map((lot) => lot.leftKg)).toFixed();
  const inLots = ofSeason.length === 1 ? 'one lot' : `${ofSeason.length} lots`;
  const left = `${format.quantity('lotMassKg', leftKg, 1)} dry is left in ${inLots}`;

  const ids = new Set(ofSeason.map(({ id }) => id));
  const made = batches.filter(({ lotId, status }) => ids.has(lotId) && status !== 'cancelled');
  if (made.length === 0) return `${title}: ${left}; no batch is planned yet.`;
  const settled = made.flatMap((batch) =>
    batch.actualNetValue === null || batch.currency !== currency ? [] : [batch.actualNetValue],
  );
  const count = made.length === 1 ? 'one batch' : `${made.length} batches`;
  if (settled.length === 0) return `${title}: ${left}; ${count} planned or made, none settled yet.`;
  const net = format.money(sumOf(settled).toFixed(2), currency);
  const share = settled.length === made.length ? count : `${settled.length} of ${count}`;
  return `${title}: ${share} ${settled.length === 1 ? 'has' : 'have'} brought ${net} net so far; ${left}.`;
}
