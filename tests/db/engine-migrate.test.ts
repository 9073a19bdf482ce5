import { sql } from 'kysely';
import { expect, it } from 'vitest';
import { migrate } from '../../db/migrate.ts';
import { migrations } from '../../db/migrations/index.ts';
import { describeOnEveryEngine } from '../support/engines.ts';

describeOnEveryEngine('migrate', (open) => {
  it('runs every migration once, in the order of their names', async () => {
    const { db } = await open({ migrated: false });
    expect(await migrate(db)).toEqual({ applied: Object.keys(migrations).sort() });
    expect(await migrate(db)).toEqual({ applied: [] });
  });

  it('leaves a database of a newer version alone', async () => {
    const { db } = await open();
    await sql`insert into kysely_migration (name, timestamp) values ('9999-of-next-year', '2030-01-01T00:00:00Z')`.execute(
      db,
    );
    await expect(migrate(db)).rejects.toThrow(/newer version of Poursheet \(it holds 9999-of-next-year/);
  });
});
