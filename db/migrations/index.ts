import type { Migration } from 'kysely';
import { firstSeason } from './0001-first-season.ts';
import { production } from './0002-production.ts';

/** Every migration in order, listed by hand; forward only; never edited once released. */
export const migrations: Record<string, Migration> = {
  '0001-first-season': firstSeason,
  '0002-production': production,
};
