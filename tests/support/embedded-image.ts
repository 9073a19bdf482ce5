import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { mkdir, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CamelCasePlugin, Kysely, PostgresDialect } from 'kysely';
import { openEmbedded } from '../../db/engine/embedded.ts';
import { migrate } from '../../db/migrate.ts';
import type { Database } from '../../db/schema.ts';

const root = join(import.meta.dirname, '../..');
const cache = join(root, 'node_modules/.cache/poursheet');

/** Path of a tar of an embedded database after all migrations; made once for each state of the migrations. */
export async function embeddedImage(): Promise<string> {
  const path = join(cache, `embedded-${fingerprint()}.tar`);
  if (existsSync(path)) return path;

  const engine = await openEmbedded({ durability: 'fast' });
  const db = new Kysely<Database>({
    dialect: new PostgresDialect({ pool: engine.pool }),
    plugins: [new CamelCasePlugin({ maintainNestedObjectKeys: true })],
  });
  let image: Buffer;
  try {
    await migrate(db);
    image = Buffer.from(await (await engine.dump()).arrayBuffer());
  } finally {
    await db.destroy();
    await engine.close();
  }

  await mkdir(cache, { recursive: true });
  for (const name of readdirSync(cache))
    if (name.startsWith('embedded-')) await rm(join(cache, name), { force: true });
  const making = `${path}.${process.pid}`;
  await writeFile(making, image);
  await rename(making, path);
  return path;
}

function fingerprint(): string {
  const migrations = join(root, 'db/migrations');
  const files = [
    ...readdirSync(migrations).map((name) => join(migrations, name)),
    join(root, 'db/migrate.ts'),
    join(root, 'node_modules/@electric-sql/pglite/package.json'),
  ];
  const hash = createHash('sha256');
  for (const file of files.sort()) hash.update(file).update(readFileSync(file));
  return hash.digest('hex').slice(0, 16);
}
