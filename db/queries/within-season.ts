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
