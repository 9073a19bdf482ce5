import type { Kysely } from 'kysely';
import type { z } from 'zod';
import { accountKinds } from '../../api/calc/books/account-kinds.ts';
import type { AccountCode, accountCodesChange } from '../../api/schemas/account-code.ts';
import type { Database } from '../schema.ts';
import { ChangedSince } from './changed.ts';
import { inTransaction } from './in-transaction.ts';

/** Every kind of account with the owner's code and name, or the suggested ones where the owner has said nothing. */
export async function listAccountCodes(db: Kysely<Database>): Promise<AccountCode[]> {
  const own = new Map(
    (await db.selectFrom('accountCode').selectAll().execute()).map((row) => [row.kind, row]),
  );
  return accountKinds.map(({ kind, group, meaning, code, name }) => {
    const row = own.get(kind);
    return {
      kind,
      group,
      meaning,
      code: row?.code ?? code,
      name: row?.name ?? name,
      version: row?.version ?? 0,
    };
  });
}

/** Keeps those that are given; the others stay as they are. */
export async function putAccountCodes(
  db: Kysely<Database>,
  { codes }: z.infer<typeof accountCodesChange>,
): Promise<AccountCode[]> {
  return inTransaction(db, async (trx) => {
    for (const { kind, code, name, version } of codes) {
      const kept = await trx
        .insertInto('accountCode')
        .values({ kind, code, name, version: version + 1 })
        .onConflict((conflict) =>
          conflict
            .column('kind')
            .doUpdateSet({ code, name, version: version + 1 })
            .where('accountCode.version', '=', version),
        )
        .returning('kind')
        .executeTakeFirst();
      if (kept === undefined) throw new ChangedSince('The account codes');
    }
    return listAccountCodes(trx);
  });
}
