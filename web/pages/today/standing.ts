import type { Today } from '../../../api/schemas/today.ts';
import { seasonTitle } from '../../../reports/model/season-title.ts';
import type { Formatter } from '../../lib/format.ts';

/** Where the season stands: what has come in so far, and what is left to work up, in one sentence. */
export function standing(season: NonNullable<Today['season']>, format: Formatter, currency: string): string {
  const title = seasonTitle(season.name);
  if (season.lots === 0) return `${title} has no lot yet.`;
  const inLots = season.lots === 1 ? 'one lot' : `${season.lots} lots`;
  const left = `${format.quantity('lotMassKg', season.leftKg, 1)} dry is left in ${inLots}`;
  if (season.batches === 0) return `${title}: ${left}; no batch is planned yet.`;
  const count = season.batches === 1 ? 'one batch' : `${season.batches} batches`;
  if (season.settled === 0) return `${title}: ${left}; ${count} planned or made, none settled yet.`;
  const net = format.money(season.netValue, currency);
  const share = season.settled === season.batches ? count : `${season.settled} of ${count}`;
  return `${title}: ${share} ${season.settled === 1 ? 'has' : 'have'} brought ${net} net so far; ${left}.`;
}
