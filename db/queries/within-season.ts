import type { Kysely } from 'kysely';
import { Refused } from './changed.ts';
import type { Database } from '../schema.ts';

/** A day outside the season is nearly always a slip of the year: refused at the field that `pointer` names. */
export async function requireWithinSeason(
  trx: Kysely<Database>,
  seasonId: string,
  pointer: string,
  day: string,
): Promise<void> {
  const season = await trx.selectFrom('season').selectAll().where('id', '=', seasonId).executeTakeFirst();
  if (season === undefined) throw new Refused('/seasonId', 'names a season that is not there');
  if (day < season.startsOn || day > season.endsOn)
    throw new Refused(
      pointer,
      `is ${day}, outside the season ${season.name} (${season.startsOn} to ${season.endsOn})`,
    );
}

/** The season that a day lies in; where seasons overlap, the one that began last. */
export async function seasonOfDay(trx: Kysely<Database>, pointer: string, day: string): Promise<string> {
  const season = await trx
    .selectFrom('season')
    .select('id')
    .where('startsOn', '<=', day)
    .where('endsOn', '>=', day)
    .orderBy('startsOn', 'desc')
    .executeTakeFirst();
  if (season === undefined)
    throw new Refused(
      pointer,
      `is ${day}, which no season holds: open the season on the settings page first`,
    );
  return season.id;
}
