import { sql, type Kysely, type Selectable } from 'kysely';
import type { z } from 'zod';
import { NotFound } from './changed.ts';
import { groupBy } from './group-by.ts';
import { inTransaction } from './in-transaction.ts';
import { numberOf } from './numbers.ts';
import { lockVersion } from './versioned.ts';
import type {
  BalanceCheck,
  balanceChange,
  BalanceRecord,
  newBalance,
  newBalanceCheck,
} from '../../api/schemas/balance.ts';
import type { BalanceTable, Database } from '../schema.ts';

async function withChecks(
  db: Kysely<Database>,
  balances: Selectable<BalanceTable>[],
): Promise<BalanceRecord[]> {
  const checks = await db
    .selectFrom('balanceCheck')
    .select(['id', 'balanceId', 'kind', 'checkedOn', 'remarks'])
    .orderBy('checkedOn')
    .orderBy('enteredAt')
    .execute();
  const readings = groupBy(
    await db.selectFrom('balanceReading').selectAll().orderBy('place').execute(),
    (row) => row.checkId,
  );
  const ofBalance = groupBy(checks, (check) => check.balanceId);
  return balances.map((balance) => ({
    ...balance,
    checks: (ofBalance.get(balance.id) ?? []).map(
      ({ balanceId: _balanceId, ...check }) =>
        ({
          ...check,
          readings: (readings.get(check.id) ?? []).map(({ nominalMassG, readingG }) => ({
            nominalMassG: numberOf(nominalMassG),
            readingG: numberOf(readingG),
          })),
        }) as BalanceCheck,
    ),
  }));
}

/** How many test smelts were weighed on each balance. */
export async function testSmeltsByBalance(db: Kysely<Database>): Promise<Map<string, number>> {
  const { rows } = await sql<{ id: string; count: string }>`
    select balance.id, (select count(*) from test_smelt
      where sample_balance_id = balance.id or bead_balance_id = balance.id) as count from balance`.execute(
    db,
  );
  return new Map(rows.map(({ id, count }) => [id, Number(count)]));
}

export async function listBalances(db: Kysely<Database>): Promise<BalanceRecord[]> {
  return withChecks(db, await db.selectFrom('balance').selectAll().orderBy('name').execute());
}

async function findBalance(db: Kysely<Database>, id: string): Promise<BalanceRecord> {
  const rows = await db.selectFrom('balance').selectAll().where('id', '=', id).execute();
  const [balance] = await withChecks(db, rows);
  if (balance === undefined) throw new NotFound('balance');
  return balance;
}

export async function insertBalance(
  db: Kysely<Database>,
  fields: z.infer<typeof newBalance>,
): Promise<BalanceRecord> {
  const id = crypto.randomUUID();
  await db
    .insertInto('balance')
    .values({ id, ...fields })
    .execute();
  return findBalance(db, id);
}

export async function updateBalance(
  db: Kysely<Database>,
  id: string,
  fields: z.infer<typeof balanceChange>,
): Promise<BalanceRecord> {
  return inTransaction(db, async (trx) => {
    const { version, ...row } = fields;
    await lockVersion(trx, 'balance', 'balance', id, version);
    await trx
      .updateTable('balance')
      .set({ ...row, version: version + 1 })
      .where('id', '=', id)
      .execute();
    return findBalance(trx, id);
  });
}

export async function insertBalanceCheck(
  db: Kysely<Database>,
  balanceId: string,
  fields: z.infer<typeof newBalanceCheck>,
): Promise<BalanceRecord> {
  return inTransaction(db, async (trx) => {
    await findBalance(trx, balanceId);
    const { readings, ...row } = fields;
    const checkId = crypto.randomUUID();
    await trx
      .insertInto('balanceCheck')
      .values({ id: checkId, balanceId, ...row })
      .execute();
    await trx
      .insertInto('balanceReading')
      .values(readings.map((reading, place) => ({ checkId, place, ...reading })))
      .execute();
    return findBalance(trx, balanceId);
  });
}

export async function deleteBalanceCheck(
  db: Kysely<Database>,
  balanceId: string,
  checkId: string,
): Promise<void> {
  const { numDeletedRows } = await db
    .deleteFrom('balanceCheck')
    .where('id', '=', checkId)
    .where('balanceId', '=', balanceId)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new NotFound('balance check');
}
